#include "sensors/sink.hpp"  // stands alone
