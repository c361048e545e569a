#include <algorithm>

#include "daemon/api/barred.hpp"
#include "daemon/api/json.hpp"
#include "daemon/api/round_lines.hpp"
#include "daemon/api/sentence.hpp"
#include "daemon/api/views.hpp"
#include "rules/round/looks.hpp"

namespace rindwatch {

namespace json = boost::json;

namespace {

constexpr std::size_t kComingDays = 7;

// What may be done today although it is due later; lot and family are empty where its wheels do not share them.
json::object OpenJson(const Book& book, const rules::EarlyLine& line) {
  json::array wheels;
  for (const rules::RoundWheel& wheel : line.wheels) wheels.push_back(wheel.id);
  return {{"place", PlaceName(book, line.place)},
          {"kinds", KindsJson(line.kinds)},
          {"due", DayJson(line.due)},
          {"cave", line.place.cave},
          {"wheels", std::move(wheels)},
          {"lot", line.lots.size() == 1 ? RoundLotName(book, line.lots.front()) : std::string{}},
          {"family", line.plans.size() == 1 ? ShortFamily(*line.plans.front()) : std::string{}}};
}

json::object ComingJson(const Book& book, const rules::ComingDay& day) {
  json::array lines;
  for (const rules::ComingLine& line : day.lines) {
    lines.push_back({{"place", PlaceName(book, line.place)},
                     {"kinds", KindsJson(line.kinds)},
                     {"count", line.wheels.size()},
                     {"lot", RoundLotName(book, line.lot)},
                     {"minutes", MinutesOf(line.seconds)}});
  }
  return {{"day", DayJson(day.day)}, {"minutes", day.minutes}, {"lines", std::move(lines)}};
}

template <typename Lines>
json::array NextLines(const Book& book, const Lines& lines) {
  json::array next;
  for (const auto& line : lines) {
    next.push_back(
        {{"place", PlaceName(book, line.place)}, {"kinds", KindsJson(line.kinds)}, {"count", line.wheels.size()}});
  }
  return next;
}

// Later today, else the next day with work.
void AddNext(json::object& object, const Book& book, const Outlook& outlook, rules::Date today) {
  if (!outlook.later.empty()) {
    const auto first =
        std::ranges::min_element(outlook.later, {}, [](const rules::EarlyLine& line) { return line.from; });
    object["next"] = {
        {"day", DayJson(today)}, {"from", ToMillis(*first->from)}, {"lines", NextLines(book, outlook.later)}};
  } else if (!outlook.coming.empty()) {
    const rules::ComingDay& day = outlook.coming.front();
    object["next"] = {{"day", DayJson(day.day)}, {"lines", NextLines(book, day.lines)}};
  }
}

json::object ShortJson(const Book& book, const rules::Round& work, const Outlook& outlook, int minutes) {
  const rules::ShortRound cut =
      rules::Shorten(work, minutes, [&outlook](rules::Date day) { return outlook.MinutesOn(day); });
  const auto& lines = work.lines;
  json::array keys, moved;
  for (const std::size_t line : cut.kept) keys.push_back(json::string(KeyOf(*lines[line].line)));
  for (const rules::ShortRound::Moved& move : cut.moved) {
    const rules::RoundLine& line = *lines[move.line].line;
    moved.push_back({{"key", KeyOf(line)},
                     {"to", DayJson(move.to)},
                     {"window_end", DayJson(line.care->window_end)},
                     {"leaves_window", move.leaves_window}});
  }
  return {{"minutes", minutes},        {"used", cut.used},
          {"all", work.Minutes()},     {"keys", std::move(keys)},
          {"moved", std::move(moved)}, {"bring", BringJson(book, rules::BringFor(work, cut.kept))}};
}

json::array SharesJson(const Book& book, rules::Date day) {
  json::array shares;
  for (const Share& share : book.SharesOn(day)) {
    json::array caves, lines;
    for (const rules::CaveId cave : share.caves) caves.push_back(cave);
    for (const std::string& line : share.lines) lines.push_back(json::string(line));
    shares.push_back({{"keeper", share.keeper}, {"caves", std::move(caves)}, {"lines", std::move(lines)}});
  }
  return shares;
}

json::object QuestionJson(const ApiContext& context, const DayRound& round, const rules::Round::Ask& ask) {
  json::object question = RoundQuestionJson(context, ask);
  if (ask.before < round.work.lines.size()) question["before"] = KeyOf(*round.work.lines[ask.before].line);
  return question;
}

json::object Json(const ApiContext& context, const DayRound& round, const Outlook& outlook, std::optional<int> minutes,
                  bool today) {
  const Book& book = context.book();
  const rules::Round work = today ? WithoutBarred(context, round.work) : round.work;
  json::array lines, questions, sections, open, coming;
  const auto looks = rules::LooksToSay(round.work);
  const Bars bars(context);
  for (std::size_t i = 0; i < looks.size(); ++i) {
    json::object line = RoundLineJson(context, round.work.lines[i], looks[i]);
    const auto bar = today ? bars.Of(round.work.lines[i].line->place.cave) : std::nullopt;
    if (bar) line["barred"] = ToText(*bar);
    lines.push_back(std::move(line));
  }
  for (const rules::Round::Ask& ask : round.work.questions) questions.push_back(QuestionJson(context, round, ask));
  for (const rules::RoundSection& section : round.work.sections) sections.push_back(RoundSectionJson(section));
  for (const rules::EarlyLine& line : outlook.open) open.push_back(OpenJson(book, line));
  for (const rules::ComingDay& day : outlook.coming) {
    if (coming.size() < kComingDays) coming.push_back(ComingJson(book, day));
  }
  json::object object{{"head", HeadJson(context)},
                      {"day", DayJson(round.Day())},
                      {"expected", round.expected},
                      {"lines", std::move(lines)},
                      {"questions", std::move(questions)},
                      {"sections", std::move(sections)},
                      {"minutes", work.Minutes()},
                      {"bring", BringJson(book, rules::BringFor(work))},
                      {"coming", std::move(coming)},
                      {"shares", SharesJson(book, round.Day())},
                      {"open", std::move(open)}};
  if (const std::string besides = BesidesOf(context); !besides.empty()) object["besides"] = besides;
  if (minutes) object["short"] = ShortJson(book, work, outlook, *minutes);
  if (outlook.quiet_since) object["quiet_since"] = DayJson(*outlook.quiet_since);
  AddNext(object, book, outlook, round.Day());
  return object;
}

// A sheet to be printed asks for the second in which it is.
bool IsOfNow(const ApiContext& context, const RoundAsk& ask) {
  return ask.at && context.now() - *ask.at < std::chrono::minutes{10};
}

}  // namespace

bool IsToday(const ApiContext& context, const RoundAsk& ask) {
  return !ask.at && (!ask.day || *ask.day == context.book().Home().DayOf(context.now()));
}

DayRound OtherRound(const ApiContext& context, const RoundAsk& ask) {
  const Book& book = context.book();
  const rules::Pace& pace = context.watch.ThePace();
  if (ask.at) return RoundAsOf(book, std::min(*ask.at, context.now()), pace);
  if (*ask.day > book.Home().DayOf(context.now())) return ExpectedRound(book, context.now(), *ask.day, pace);
  // A day that is over, as it ended.
  return RoundAsOf(book, book.Home().EndOf(*ask.day) - rules::Millis{1}, pace);
}

json::object RoundJson(const ApiContext& context, const RoundAsk& ask) {
  if (!IsToday(context, ask)) return Json(context, OtherRound(context, ask), {}, ask.minutes, IsOfNow(context, ask));
  const DayRound& round = context.watch.TodaysRound();
  return Json(context, round, context.watch.TodaysOutlook(), ask.minutes, true);
}

}  // namespace rindwatch
