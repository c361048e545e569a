// Finds the handler for a method and a path. A value, filled before the server starts; the loop's thread.
#pragma once

#include <string>
#include <vector>

#include "web/http.hpp"

namespace rindwatch::web {

class Router {
 public:
  // A pattern's part in braces matches one part of a path, whatever it holds: "/api/wheels/{wheel}". Plain parts win
  // over braces, whatever the order in which they were added. A HEAD is answered by the handler of GET.
  // Throws std::logic_error if the pattern does not begin with "/" or if the same place is added twice.
  void Add(std::string method, const std::string& pattern, Handler handler);
  void Get(const std::string& pattern, Handler handler) { Add("GET", pattern, std::move(handler)); }
  void Post(const std::string& pattern, Handler handler) { Add("POST", pattern, std::move(handler)); }

  // Takes each GET and HEAD of a path outside /api that no pattern matches: the page.
  void Otherwise(Handler handler) { otherwise_ = std::move(handler); }

  // Calls the handler, or answers 404 (nothing at this path) or 405 (another method, named in Allow) itself. What a
  // handler throws goes through: the server answers it with 500, a caller in-process catches it.
  void Handle(Request request, const Answer& answer) const;
  // Handle as a Handler, for the server. The router must outlive it.
  Handler AsHandler() const;

 private:
  struct Route {
    std::string method;
    std::vector<std::string> parts;  // with braces where a name stands
    Handler handler;
  };
  const Route* Find(const std::string& method, const std::vector<std::string>& parts) const;
  std::string Allowed(const std::vector<std::string>& parts) const;

  std::vector<Route> routes_;
  Handler otherwise_;
};

}  // namespace rindwatch::web
