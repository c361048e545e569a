#include "daemon/store/history.hpp"

#include <algorithm>

#include "daemon/store/misdated.hpp"
#include "daemon/store/sqlite/statement.hpp"

namespace rindwatch {
namespace {

// Scanned in the order of time and gathered here: several times faster than grouping in SQL.
constexpr const char* kScan =
    "SELECT measured_at, milli, position FROM reading INDEXED BY reading_by_time "
    "WHERE measured_at >= ? AND measured_at < ? AND channel = ? AND (marks & 2) = 0 ORDER BY measured_at";

// `mean` holds the sum until the bucket is full.
void Add(Bucket& bucket, double value) {
  bucket.min = bucket.count == 0 ? value : std::min(bucket.min, value);
  bucket.max = bucket.count == 0 ? value : std::max(bucket.max, value);
  bucket.mean += value;
  ++bucket.count;
}

}  // namespace

std::vector<Bucket> ReadHistory(sqlite::Database& database, rules::ChannelId channel, rules::Instant from,
                                rules::Instant to, rules::Millis width) {
  std::vector<Bucket> buckets;
  if (width <= rules::Millis{0} || to <= from) return buckets;
  const Misdated misdated = Misdated::In(database);
  sqlite::Statement scan(database, kScan);
  for (sqlite::Rows rows = scan.Query(rules::ToMillis(from), rules::ToMillis(to), channel); rows.Next();) {
    const rules::Instant measured_at = rules::FromMillis(rows.Int(0));
    if (misdated.RightTime(rows.Int(2), measured_at) != measured_at) continue;
    const rules::Instant start = from + (measured_at - from) / width * width;
    if (buckets.empty() || buckets.back().from != start) buckets.push_back({start, 0, 0, 0, 0});
    Add(buckets.back(), static_cast<double>(rows.Int(1)) / 1000.0);
  }
  for (Bucket& bucket : buckets) bucket.mean /= static_cast<double>(bucket.count);
  return buckets;
}

}  // namespace rindwatch
