#include "daemon/api/json.hpp"

#include <cmath>

namespace rindwatch {

namespace json = boost::json;

json::array KindsJson(const std::vector<rules::CareKind>& kinds) {
  json::array array;
  for (const rules::CareKind kind : kinds) array.push_back(json::string(rules::ToText(kind)));
  return array;
}

json::object SpanJson(const rules::Figure& figure) {
  return {{"low", figure.low}, {"high", figure.high}, {"source", figure.source}};
}

void SetSpan(json::object& into, const char* name, const std::optional<rules::Figure>& figure) {
  if (figure) into[name] = SpanJson(*figure);
}

void SetAt(json::object& into, const char* name, const std::optional<rules::Instant>& at) {
  if (at) into[name] = ToMillis(*at);
}

void SetNumber(json::object& into, const char* name, const std::optional<double>& value) {
  if (value && std::isfinite(*value)) into[name] = *value;
}

json::string DayJson(rules::Date day) { return json::string(ToText(day)); }

std::string StateWord(const rules::Standing& standing) {
  if (standing.gone) return "gone";
  return standing.stage ? std::string(rules::ToText(standing.stage->state)) : "drying";
}

std::string StateWord(const Book& book, const WheelRow& wheel, const rules::Standing& standing) {
  return !standing.gone && book.ReleaseOf(wheel) ? "released" : StateWord(standing);
}

std::string LotName(const Book& book, const WheelRow& wheel) {
  return book.ShowsLot(wheel.lot) ? book.Lot(wheel.lot).name : std::string{};
}

std::string ShortFamily(const rules::Plan& plan) { return plan.family.substr(0, plan.family.find(',')); }

std::string PlaceName(const Book& book, const CaveRow* cave, const std::string& shelf) {
  if (shelf.empty()) return cave ? cave->name : std::string{};
  return cave && book.IsShelfInTwoCaves(shelf) ? cave->name + " " + shelf : shelf;
}

std::string PlaceName(const Book& book, const Place& place) {
  return PlaceName(book, place.cave ? book.Cave(*place.cave) : nullptr, place.shelf);
}

web::Response JsonResponse(const json::value& value, int status) {
  web::Response response;
  response.status = status;
  response.body = json::serialize(value);
  return response;
}

}  // namespace rindwatch
