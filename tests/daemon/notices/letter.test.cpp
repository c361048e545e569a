#include "daemon/notices/letter.hpp"

#include <boost/json.hpp>
#include <sstream>

#include "daemon/morning/columns.hpp"
#include "tests/catch.hpp"
#include "tests/daemon/store/support.hpp"

namespace rindwatch {
namespace {

using testing::Says;

Letter Warm() {
  Letter letter;
  letter.subject = "Fridge too warm since 04:20, 2 h 10 min. 15.9 °C, keep 11 to 14.";
  letter.grave = true;
  letter.severity = "act";
  letter.cave = 3;
  letter.cave_name = "Fridge";
  letter.Head(letter.subject)
      .Text("Nobody has taken it yet.")
      .Text("")
      .Rows("It matters to",
            {{"6 bloomies, Box 1", "in 1 h 45 to 2 h 45"}, {"a family of a very long name, Cellar", "13:00"}})
      .Steps("First", {"Shut the door.", "Listen: does the plant run? Do not open it."})
      .Link("Open it and take it",
            "http://cave.example:8417/alarms/too%20warm%20%7C%20cave%201%20%7C%201795660800000000000");
  return letter;
}

}  // namespace

TEST_CASE("a letter as plain text stands in 72 columns, but for an address, which is never broken") {
  const std::string text = PlainText(Warm());
  CHECK_THAT(text, Says("Nobody has taken it yet.\n"));
  CHECK_THAT(text, Says("  6 bloomies, Box 1       in 1 h 45 to 2 h 45\n"));
  CHECK_THAT(text, Says("  2  Listen: does the plant run? Do not open it.\n"));
  CHECK_THAT(text, Says("\nhttp://cave.example:8417/alarms/too%20warm%20%7C%20cave%201%20%7C%201795660800000000000\n"));
  std::size_t from = 0;
  while (from < text.size()) {
    const std::size_t end = text.find('\n', from);
    const std::string line = text.substr(from, end - from);
    if (!line.starts_with("http")) CHECK(morning::WidthOf(line) <= morning::kWidth);
    from = end + 1;
  }
}

TEST_CASE("a list begins with its date: its sentence is the subject already") {
  Letter letter;
  letter.Head("Seven lines, 20 minutes.")
      .Plain("Thursday 26 November, 06:30\n")
      .Link("Open the round", "http://x/round");
  CHECK(PlainText(letter) == "Thursday 26 November, 06:30\n\nOpen the round\nhttp://x/round\n");
  CHECK_THAT(HtmlText(letter), Says("Seven lines, 20 minutes.</h1>"));
  letter.blocks[1].narrow = "Thursday\n26 November\n";
  CHECK_THAT(HtmlText(letter), Says("Thursday\n26 November\n</pre>"));
  CHECK_THAT(PlainText(letter), !Says("Thursday\n26"));
}

TEST_CASE("on a phone a letter says the same in 38 columns, but for an address") {
  const std::string text = PhoneText(Warm());
  CHECK_THAT(text, Says("  6 bloomies, Box 1\n             in 1 h 45 to 2 h 45\n"));
  std::istringstream stream(text);
  for (std::string line; std::getline(stream, line);) {
    INFO(line);
    if (!line.starts_with("http")) CHECK(morning::WidthOf(line) <= 38);
  }
}

TEST_CASE("the second column of rows stands behind the longest of the first that leaves room for it") {
  Letter letter;
  letter.Rows("", {{"2 Bloomy, Box 1", "in 1 h"}, {"1 Pressed semi-hard, Box 2", "in 2 h"}, {"8 Blue, Box 1", ""}});
  CHECK(PlainText(letter) ==
        "  2 Bloomy, Box 1             in 1 h\n  1 Pressed semi-hard, Box 2  in 2 h\n  8 Blue, Box 1\n");
}

TEST_CASE("a letter as a page holds nothing that a text could break out of, and nothing from outside") {
  Letter letter = Warm();
  letter.Text("<script>alert(\"x\")</script> & 'more'").Link("see", "http://x/?a=\"><b>");
  const std::string page = HtmlText(letter);
  CHECK_THAT(page, !Says("<script"));
  CHECK_THAT(page, Says("&lt;script&gt;alert(&quot;x&quot;)&lt;/script&gt; &amp;"));
  CHECK_THAT(page, Says("href=\"http://x/?a=&quot;&gt;&lt;b&gt;\""));
  for (const char* outside : {"<img", "<link", "<style", "src=", "url("}) CHECK_THAT(page, !Says(outside));
}

TEST_CASE("in a letter as a page no figure is parted from its unit, wherever its line ends") {
  Letter letter;
  letter.Head("Cellar carbon dioxide high since 04:20, 2 h 45 min. 8000 ppm.").Text("Air 15.9 °C, 70 %.");
  letter.Rows("It matters to", {{"2 tommes of 1.5 kg, A1", "in 1 to 2 h"}});
  const std::string html = HtmlText(letter);
  for (const char* bound :
       {"2\u00a0h\u00a045\u00a0min", "8000\u00a0ppm", "15.9\u00a0°C, 70\u00a0%", "1.5\u00a0kg", "1 to 2\u00a0h"})
    CHECK(html.find(bound) != std::string::npos);
}

TEST_CASE("an alarm that lasts is set in red ink, its end is not") {
  Letter letter = Warm();
  CHECK_THAT(HtmlText(letter), Says("#a3221a"));
  letter.grave = false;
  CHECK_THAT(HtmlText(letter), !Says("#a3221a"));
}

TEST_CASE("a letter is kept and comes back as it was") {
  const Letter letter = Warm().Plain("Bring     3 cloths\n", "Bring\n  3 cloths\n");
  CHECK(LetterFrom(boost::json::serialize(ToJson(letter))) == letter);
  CHECK_THROWS(LetterFrom("{}"));
}

}  // namespace rindwatch
