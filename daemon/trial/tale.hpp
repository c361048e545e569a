// What invented keepers did in the weeks behind a trial: chapters that fall at instants of the stepped clock, and the
// rounds as keepers of some habits do them.
#pragma once

#include <boost/json.hpp>
#include <functional>
#include <memory>
#include <random>
#include <string>
#include <vector>

#include "daemon/trial/phone.hpp"

namespace rindwatch {

// Where a trial plays: a fridge with boxes and five wheels, or a farm with two rooms and three hundred.
enum class Scene { kFridge, kFarm };

// How likely a keeper does otherwise than a careful one, in 1.
struct Habits {
  double stays_away = 0;    // from a whole round
  double passes_over = 0;   // a line of it
  double in_part = 0;       // turned, not washed
  double one_left_out = 0;  // of several wheels
  double writes_later = 0;  // in the evening, what was done in the morning
  double signs_twice = 0;   // signed, undone, signed again
  double not_yet = 0;       // to a question that could be answered

  static Habits Careful() { return {}; }
  static Habits Careless() { return {0.14, 0.10, 0.08, 0.06, 0.10, 0.04, 0.5}; }
};

class Tale {
 public:
  virtual ~Tale() = default;
  // Does what falls before `at`. Call as the clock is stepped, never back.
  void Live(rules::Instant at);
  // When something comes next.
  rules::Instant Next() const;

 protected:
  // The tale ends at `now`.
  Tale(Phone& phone, rules::Instant now, std::uint64_t seed, Habits habits);

  void At(rules::Instant at, std::function<void()> happens);
  rules::Instant AtLocal(rules::Date day, int hour, int minute) const;
  // Ends the writing of chapters: a shorter past begins in the middle of the tale.
  void Bind();
  int Upto(int most) { return static_cast<int>(random_() % static_cast<unsigned>(most)); }
  bool Happens(double chance) { return std::uniform_real_distribution<>{}(random_) < chance; }

  Phone& ThePhone() { return phone_; }
  rules::Date Today() const { return today_; }
  rules::Instant Now() const { return now_; }
  rules::Instant Start() const { return start_; }

  // Enters wheels; the starts of later parts that lie behind are reckoned from the plan's usual days. The answer.
  struct Lot {
    const char* name;
    const char* plan;
    int count;
    int grams;
    int age;  // days since made, on the day of the entry
    const char* shelf = "";
  };
  boost::json::object Enter(const std::string& keeper, const Lot& lot, boost::json::object where);
  // Hears by mail of what wants a hand, and gets the lists of the day. The address is nobody's.
  void Hears(const std::string& keeper, int rank);
  // A round of a keeper: the lines that `mine` says yes to, then the questions.
  void DoRound(
      const std::string& keeper, bool evening,
      const std::function<bool(const boost::json::object&)>& mine = [](const auto&) { return true; });
  // What rang is taken and called by its name.
  void TakeAlarms(const std::string& keeper);
  void Sign(const std::string& keeper, const boost::json::object& line);
  // Where wheels go that a question moves, of the caves that it offers; with a board if they get one.
  virtual boost::json::object WhereTo(const boost::json::object& question);

 private:
  struct Chapter {
    rules::Instant at;
    std::function<void()> happens;
  };
  void SignCarelessly(const std::string& keeper, const boost::json::object& line);
  void AnswerQuestions(const std::string& keeper, const boost::json::object& round,
                       const std::function<bool(const boost::json::object&)>& mine);
  boost::json::array StartsBehind(const Lot& lot);

  Phone& phone_;
  const Habits habits_;
  const rules::Instant start_, now_;
  const rules::Date today_;
  std::mt19937_64 random_;
  std::vector<Chapter> chapters_;  // ascending once bound; the next at the back
};

// `careless`: the keepers do as careless ones do; else as the scene has it.
std::unique_ptr<Tale> TaleOf(Scene scene, Phone& phone, rules::Instant now, std::uint64_t seed, bool careless);

}  // namespace rindwatch
