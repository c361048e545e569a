// The one door to Catch2: version 2 (Debian 12) and version 3 (Debian 13) lie in different headers.
#pragma once

#if __has_include(<catch2/catch_all.hpp>)
#include <catch2/catch_all.hpp>
#else
#include <catch2/catch.hpp>
#endif

#if __has_include(<catch2/catch_all.hpp>)
using Catch::Approx;
#endif
