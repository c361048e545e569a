// A notice as it goes on its way: the mail's bytes, or the request's.
#pragma once

#include <optional>
#include <string>

#include "daemon/api/context.hpp"
#include "daemon/notices/carrier.hpp"
#include "daemon/notices/letter.hpp"

namespace rindwatch {

// The alarm that a letter tells first: of several its row may be of another one. A letter that was queued before
// letters said so is of its row's.
const std::string& AlarmOf(const NoticeRow& row, const Letter& letter);
// And its kind: of one that speaks for several, that of what it says first.
const std::string& KindOf(const NoticeRow& row, const Letter& letter);

// None: there is no way to this address, and `why` says so. `link` is where the letter leads to.
std::optional<Parcel> ParcelOf(const ApiContext& context, const NoticeRow& row, const Letter& letter,
                               const std::string& link, std::string& why);

// The body of a webhook: its template filled in, else JSON.
std::string WebhookBody(const Webhook& webhook, const NoticeRow& row, const Letter& letter, const std::string& link,
                        bool trial);

}  // namespace rindwatch
