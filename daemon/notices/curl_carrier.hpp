// Carries by libcurl: mail by SMTP, requests by HTTP. A thread for each lane, begun when it is first used, so that a
// server that hangs keeps nobody else waiting; never the loop's, never the store's.
#pragma once

#include <condition_variable>
#include <deque>
#include <map>
#include <memory>
#include <mutex>
#include <thread>

#include "daemon/notices/carrier.hpp"
#include "daemon/store/store.hpp"

namespace rindwatch {

class Words;

class CurlCarrier : public Carrier {
 public:
  // `post` runs a function in the loop's thread; it and `words` outlive the carrier.
  CurlCarrier(const NoticesConfig& config, const Words& words, Store::Post post);
  ~CurlCarrier() override;
  CurlCarrier(const CurlCarrier&) = delete;
  CurlCarrier& operator=(const CurlCarrier&) = delete;

  void Send(Parcel parcel, std::function<void(Go go)> handing, std::function<void(Outcome)> done) override;
  void Stop() override;

 private:
  class Lane;
  const NoticesConfig& config_;
  const Words& words_;
  Store::Post post_;
  std::map<std::string, std::unique_ptr<Lane>> lanes_;
  std::shared_ptr<bool> alive_ = std::make_shared<bool>(true);  // what is posted late finds nobody
};

}  // namespace rindwatch
