#include "daemon/notices/letter.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <boost/json.hpp>
#include <stdexcept>

#include "daemon/morning/columns.hpp"

namespace rindwatch {

namespace json = boost::json;
using Kind = Letter::Block::Kind;

namespace {

constexpr std::array<std::pair<Kind, const char*>, 6> kKinds{{{Kind::kHead, "head"},
                                                              {Kind::kText, "text"},
                                                              {Kind::kRows, "rows"},
                                                              {Kind::kSteps, "steps"},
                                                              {Kind::kPlain, "plain"},
                                                              {Kind::kLink, "link"}}};

// How wide it may be, and where the second column of rows stands: between these two.
struct Columns {
  std::size_t width, nearest, farthest;
};
constexpr Columns kSheet{morning::kWidth, 27, 40}, kPhone{38, 14, 20};

std::string Across(const Columns& at, std::size_t column, std::string_view text) {
  return morning::Row().At(column, text, at.width - column + 1).Text();
}

// Behind the longest of the first that leaves room for it.
std::size_t SecondColumn(const Columns& at, const Letter::Block& block) {
  std::size_t column = at.nearest;
  for (const auto& [left, right] : block.rows) {
    const std::size_t behind = morning::WidthOf(left) + 5;
    if (!right.empty() && behind <= at.farthest) column = std::max(column, behind);
  }
  return column;
}

std::string RowsText(const Columns& at, const Letter::Block& block) {
  const std::size_t second = SecondColumn(at, block);
  std::string text;
  if (!block.text.empty()) text += Across(at, 1, block.text);
  for (const auto& [left, right] : block.rows) {
    // What is too long for its column stands above.
    const bool beside = !right.empty() && morning::WidthOf(left) + 5 <= second;
    morning::Row row;
    row.At(3, left, beside ? second - 5 : at.width - 2);
    if (beside) row.At(second, right, at.width - second + 1);
    text += row.Text();
    if (!beside && !right.empty()) text += Across(at, second, right);
  }
  return text;
}

std::string StepsText(const Columns& at, const Letter::Block& block) {
  std::string text = Across(at, 1, block.text);
  for (std::size_t nth = 0; nth < block.steps.size(); ++nth) {
    morning::Row row;
    row.At(3, std::to_string(nth + 1), 2).At(6, block.steps[nth], at.width - 5);
    text += row.Text();
  }
  return text;
}

std::string BlockText(const Columns& at, const Letter::Block& block) {
  switch (block.kind) {
    case Kind::kHead:
    case Kind::kText:
      return Across(at, 1, block.text);
    case Kind::kRows:
      return RowsText(at, block);
    case Kind::kSteps:
      return StepsText(at, block);
    case Kind::kPlain: {
      const std::string& text = at.width < morning::kWidth && !block.narrow.empty() ? block.narrow : block.text;
      return text + (text.ends_with('\n') ? "" : "\n");
    }
    case Kind::kLink:
      return block.text + "\n" + block.address + "\n";
  }
  return {};
}

std::string TextAt(const Columns& at, const Letter& letter) {
  std::string text;
  for (auto block = letter.blocks.begin(); block != letter.blocks.end(); ++block) {
    // A list begins with its date; its sentence is the subject.
    const auto next = std::next(block);
    if (block->kind == Kind::kHead && next != letter.blocks.end() && next->kind == Kind::kPlain) continue;
    text += (text.empty() ? "" : "\n") + BlockText(at, *block);
  }
  return text;
}

std::string Escaped(std::string_view text) {
  std::string safe;
  for (const char c : morning::Unbroken(text)) {
    switch (c) {
      case '&':
        safe += "&amp;";
        break;
      case '<':
        safe += "&lt;";
        break;
      case '>':
        safe += "&gt;";
        break;
      case '"':
        safe += "&quot;";
        break;
      default:
        safe += c;
    }
  }
  return safe;
}

// Inks and paper of the page in daylight; programs that show mails know no style sheets worth relying on.
constexpr const char* kInk = "#1f1a13";
constexpr const char* kNote = "#544a3a";
constexpr const char* kRule = "#7d725c";
constexpr const char* kHand = "#1b427f";
constexpr const char* kRed = "#a3221a";

std::string Tag(const char* name, const std::string& style, const std::string& inside) {
  return fmt::format("<{0} style=\"{1}\">{2}</{0}>\n", name, style, inside);
}

std::string HtmlRows(const Letter::Block& block) {
  std::string rows;
  for (const auto& [left, right] : block.rows) {
    rows += "<tr>" + Tag("td", "padding:3px 16px 3px 0;vertical-align:top", Escaped(left)) +
            Tag("td", "padding:3px 0;vertical-align:top;font-variant-numeric:tabular-nums", Escaped(right)) + "</tr>\n";
  }
  std::string table = Tag("table", "border-collapse:collapse;font-size:16px", rows);
  if (block.text.empty()) return table;
  return Tag("p", fmt::format("margin:14px 0 2px;color:{}", kNote), Escaped(block.text)) + table;
}

std::string HtmlSteps(const Letter::Block& block) {
  std::string steps;
  for (const std::string& step : block.steps) steps += Tag("li", "padding:3px 0", Escaped(step));
  return Tag("p", fmt::format("margin:14px 0 2px;color:{}", kNote), Escaped(block.text)) +
         Tag("ol", "margin:0;padding-left:24px;font-size:18px", steps);
}

std::string HtmlBlock(const Letter& letter, const Letter::Block& block) {
  switch (block.kind) {
    case Kind::kHead: {
      const std::string ink = letter.grave ? kRed : kInk;
      return Tag("h1",
                 "margin:0 0 10px;padding-bottom:8px;border-bottom:4px double " + ink + ";color:" + ink +
                     ";font:500 24px/1.25 Georgia,'Noto Serif',serif",
                 Escaped(block.text));
    }
    case Kind::kText:
      return Tag("p", "margin:8px 0", Escaped(block.text));
    case Kind::kRows:
      return HtmlRows(block);
    case Kind::kSteps:
      return HtmlSteps(block);
    case Kind::kPlain:
      return Tag("pre",
                 "margin:10px 0;white-space:pre-wrap;overflow-wrap:break-word;font:13px/1.45 "
                 "ui-monospace,Menlo,Consolas,monospace",
                 Escaped(block.narrow.empty() ? block.text : block.narrow));
    case Kind::kLink:
      return "<p style=\"margin:18px 0 4px\"><a href=\"" + Escaped(block.address) +
             "\" style=\"display:inline-block;padding:14px 2px;color:" + kHand + ";border-top:2px solid " + kHand +
             ";border-bottom:2px solid " + kHand + ";font-size:18px;text-decoration:underline\">" +
             Escaped(block.text) + "</a></p>\n";
  }
  return {};
}

Kind KindFrom(std::string_view text) {
  for (const auto& [kind, name] : kKinds)
    if (name == text) return kind;
  throw std::runtime_error("A kept notice has a part that nobody knows: " + std::string(text));
}

}  // namespace

Letter& Letter::Head(std::string text) {
  blocks.push_back({Kind::kHead, std::move(text), {}, {}, {}, {}});
  return *this;
}
Letter& Letter::Text(std::string text) {
  if (!text.empty()) blocks.push_back({Kind::kText, std::move(text), {}, {}, {}, {}});
  return *this;
}
Letter& Letter::Rows(std::string above, std::vector<std::pair<std::string, std::string>> rows) {
  if (!rows.empty()) blocks.push_back({Kind::kRows, std::move(above), {}, {}, std::move(rows), {}});
  return *this;
}
Letter& Letter::Steps(std::string above, std::vector<std::string> steps) {
  if (!steps.empty()) blocks.push_back({Kind::kSteps, std::move(above), {}, {}, {}, std::move(steps)});
  return *this;
}
Letter& Letter::Plain(std::string text, std::string narrow) {
  blocks.push_back({Kind::kPlain, std::move(text), {}, std::move(narrow), {}, {}});
  return *this;
}
Letter& Letter::Link(std::string text, std::string address) {
  blocks.push_back({Kind::kLink, std::move(text), std::move(address), {}, {}, {}});
  return *this;
}

std::string PlainText(const Letter& letter) { return TextAt(kSheet, letter); }
std::string PhoneText(const Letter& letter) { return TextAt(kPhone, letter); }

std::string HtmlText(const Letter& letter) {
  std::string inside;
  for (const Letter::Block& block : letter.blocks) inside += HtmlBlock(letter, block);
  return "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n"
         "<meta name=\"viewport\" content=\"width=device-width\">\n<title>" +
         Escaped(letter.subject) +
         "</title>\n</head>\n<body style=\"margin:0;padding:16px 8px;background:#f3ecdc\">\n"
         "<div style=\"max-width:620px;margin:0 auto;border-left:3px double " +
         std::string(kRule) + ";padding-left:10px;color:" + kInk +
         ";font:16px/1.45 Roboto,'Helvetica Neue',Arial,sans-serif\">\n" + inside + "</div>\n</body>\n</html>\n";
}

json::object ToJson(const Letter& letter) {
  json::array blocks;
  for (const Letter::Block& block : letter.blocks) {
    json::object one;
    for (const auto& [kind, name] : kKinds)
      if (kind == block.kind) one["kind"] = name;
    one["text"] = block.text;
    if (!block.address.empty()) one["address"] = block.address;
    if (!block.narrow.empty()) one["narrow"] = block.narrow;
    json::array rows;
    for (const auto& [left, right] : block.rows) rows.push_back(json::array{json::string(left), json::string(right)});
    if (!rows.empty()) one["rows"] = std::move(rows);
    if (!block.steps.empty()) one["steps"] = json::value_from(block.steps);
    blocks.push_back(std::move(one));
  }
  json::object object{{"subject", letter.subject},  {"grave", letter.grave}, {"severity", letter.severity},
                      {"alarm", letter.alarm},      {"cave", letter.cave},   {"cave_name", letter.cave_name},
                      {"blocks", std::move(blocks)}};
  if (!letter.kind.empty()) object["kind"] = letter.kind;
  if (letter.as_of) object["as_of"] = rules::ToMillis(*letter.as_of);
  if (!letter.ended.empty()) object["ended"] = json::value_from(letter.ended);
  return object;
}

Letter LetterFrom(std::string_view text) {
  const json::value value = json::parse(json::string_view(text.data(), text.size()));
  const json::object& object = value.as_object();
  Letter letter;
  letter.subject = std::string(object.at("subject").as_string());
  letter.grave = object.at("grave").as_bool();
  letter.severity = std::string(object.at("severity").as_string());
  // One that was queued by a program which did not say it yet.
  if (const json::value* alarm = object.if_contains("alarm")) letter.alarm = std::string(alarm->as_string());
  if (const json::value* kind = object.if_contains("kind")) letter.kind = std::string(kind->as_string());
  if (const json::value* ended = object.if_contains("ended"))
    letter.ended = json::value_to<std::vector<std::string>>(*ended);
  if (const json::value* as_of = object.if_contains("as_of"))
    letter.as_of = rules::FromMillis(as_of->to_number<std::int64_t>());
  letter.cave_name = std::string(object.at("cave_name").as_string());
  letter.cave = object.at("cave").to_number<std::int64_t>();
  for (const json::value& item : object.at("blocks").as_array()) {
    const json::object& one = item.as_object();
    Letter::Block block;
    block.kind = KindFrom(std::string(one.at("kind").as_string()));
    block.text = std::string(one.at("text").as_string());
    if (const json::value* address = one.if_contains("address")) block.address = std::string(address->as_string());
    if (const json::value* narrow = one.if_contains("narrow")) block.narrow = std::string(narrow->as_string());
    if (const json::value* rows = one.if_contains("rows")) {
      for (const json::value& row : rows->as_array())
        block.rows.emplace_back(row.as_array().at(0).as_string(), row.as_array().at(1).as_string());
    }
    if (const json::value* steps = one.if_contains("steps"))
      block.steps = json::value_to<std::vector<std::string>>(*steps);
    letter.blocks.push_back(std::move(block));
  }
  return letter;
}

}  // namespace rindwatch
