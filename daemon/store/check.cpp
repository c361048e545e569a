// `check`: is the file whole, and do the summing tables say what the journal says?
#include <fmt/format.h>
#include <boost/json/parse.hpp>
#include <boost/json/serialize.hpp>

#include <filesystem>

#include "daemon/store/line_rows.hpp"
#include "daemon/store/schema.hpp"
#include "daemon/store/sqlite/error.hpp"
#include "daemon/store/sqlite/transaction.hpp"
#include "daemon/store/store.hpp"

namespace rindwatch {
namespace {

// Of one file that is more broken than anyone wants to read about.
constexpr std::size_t kMostFaults = 100;

std::string NameOf(const JournalLine& line) {
  return fmt::format("Journal line {} ({} \"{}\")", line.position, line.kind, line.id);
}

std::string Describe(const Fact& fact) {
  return fmt::format("{} {} {} from {} = {}", fact.subject_kind, fact.subject, fact.what, rules::ToText(fact.from),
                     boost::json::serialize(fact.value));
}

// As it is after a way through the file, where 5.0 and 5 are one number.
std::string Stored(const boost::json::value& value) {
  return boost::json::serialize(boost::json::parse(boost::json::serialize(value)));
}

bool SameFact(const Fact& a, const Fact& b) {
  return a.subject_kind == b.subject_kind && a.subject == b.subject && a.what == b.what && a.from == b.from &&
         Stored(a.value) == Stored(b.value);
}

class Check {
 public:
  Check(sqlite::Database& database, const FactsOfLine& facts_of)
      : database_(database),
        facts_of_(facts_of),
        wheels_(database, "SELECT wheel FROM act_wheel WHERE position = ? ORDER BY ordinal"),
        facts_(database,
               "SELECT subject_kind, subject, what, from_ms, value FROM fact WHERE position = ? ORDER BY ordinal") {}

  CheckReport Run() {
    CheckPages();
    CheckReferences();
    sqlite::Statement lines(database_,
                            "SELECT " RINDWATCH_LINE_COLUMNS RINDWATCH_LINE_TEXTS " FROM journal ORDER BY position");
    for (sqlite::Rows rows = lines.Query(); rows.Next(); ++report_.lines) CheckLine(rows);
    report_.facts = database_.AskInt("SELECT count(*) FROM fact");
    report_.readings = database_.AskInt("SELECT count(*) FROM reading");
    return std::move(report_);
  }

 private:
  void Add(std::string fault) {
    if (report_.faults.size() < kMostFaults) report_.faults.push_back(std::move(fault));
  }

  void CheckPages() {
    sqlite::Statement check(database_, "PRAGMA quick_check");
    for (sqlite::Rows rows = check.Query(); rows.Next();)
      if (rows.Text(0) != "ok") Add(fmt::format("{} is damaged: {}.", database_.Path(), rows.Text(0)));
  }

  void CheckReferences() {
    sqlite::Statement check(database_, "PRAGMA foreign_key_check");
    for (sqlite::Rows rows = check.Query(); rows.Next();)
      Add(fmt::format("The table {} names a journal line that is not there.", rows.Text(0)));
  }

  void CheckLine(const sqlite::Rows& rows) {
    try {
      const JournalLine line = WholeFrom(rows);
      CheckWheels(line);
      CheckFacts(line);
    } catch (const sqlite::DatabaseError&) {
      throw;
    } catch (const std::exception& error) {
      Add(fmt::format("Journal line {} cannot be read: {}", rows.Int(0), error.what()));
    }
  }

  void CheckWheels(const JournalLine& line) {
    std::vector<rules::WheelId> summed;
    for (sqlite::Rows rows = wheels_.Query(line.position); rows.Next();) summed.push_back(rows.Int(0));
    if (summed != line.wheels)
      Add(fmt::format("{} names the wheels {}, the table act_wheel holds {}.", NameOf(line), WheelsToText(line.wheels),
                      WheelsToText(summed)));
  }

  void CheckFacts(const JournalLine& line) {
    const std::vector<Fact> said = facts_of_(line);
    const std::vector<Fact> summed = FactsIn(line.position);
    for (std::size_t i = 0; i < std::max(said.size(), summed.size()); ++i) {
      if (i >= summed.size())
        Add(fmt::format("{} says {}, the table fact does not hold it.", NameOf(line), Describe(said[i])));
      else if (i >= said.size())
        Add(fmt::format("{} does not say {}, which the table fact holds.", NameOf(line), Describe(summed[i])));
      else if (!SameFact(said[i], summed[i]))
        Add(fmt::format("{} says {}, the table fact holds {}.", NameOf(line), Describe(said[i]), Describe(summed[i])));
    }
  }

  std::vector<Fact> FactsIn(std::int64_t position) {
    std::vector<Fact> facts;
    for (sqlite::Rows rows = facts_.Query(position); rows.Next();)
      facts.push_back(
          {rows.Text(0), rows.Int(1), rows.Text(2), rules::FromMillis(rows.Int(3)), boost::json::parse(rows.Text(4))});
    return facts;
  }

  sqlite::Database& database_;
  const FactsOfLine& facts_of_;
  sqlite::Statement wheels_;
  sqlite::Statement facts_;
  CheckReport report_;
};

CheckReport CheckOpened(sqlite::Database& database, const FactsOfLine& facts_of) {
  CheckOurs(database);
  if (database.AskInt("PRAGMA user_version") == 0)
    throw StoreError(database.Path() + " is empty: `rindwatch serve` or `rindwatch try` fills it at its first start.");
  // One transaction, so that a daemon that goes on writing beside it changes nothing in between.
  sqlite::Transaction one_view(database, sqlite::Transaction::Kind::kRead);
  return Check(database, facts_of).Run();
}

}  // namespace

CheckReport CheckDatabase(const std::string& path, const FactsOfLine& facts_of) {
  std::error_code ignored;
  if (!std::filesystem::exists(path, ignored))
    throw StoreError(path + " does not exist: name the database that the daemon writes.");
  try {
    sqlite::Database database(path, sqlite::Database::Access::kReadOnly);
    return CheckOpened(database, facts_of);
  } catch (const sqlite::DatabaseError& error) {
    if (error.Kind() != sqlite::ErrorKind::kCorrupt) throw StoreError(error.what());
    CheckReport report;
    report.faults.emplace_back(error.what());
    return report;
  }
}

}  // namespace rindwatch
