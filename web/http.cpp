#include "web/http.hpp"  // stands alone
