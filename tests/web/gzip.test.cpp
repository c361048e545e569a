#include "web/gzip.hpp"

#include <cstdio>
#include <fstream>
#include <random>

#include "tests/catch.hpp"
#include "tests/web/harness.hpp"

using namespace rindwatch::web;

namespace {

// What the gzip program makes of it: the outside check of the format of RFC 1952 (it verifies checksum and length).
std::string ByGzipProgram(const std::string& packed) {
  const test::TempFolder folder;
  std::ofstream(folder / "a.gz", std::ios::binary) << packed;
  const std::string command = "gzip -dc " + (folder / "a.gz");
  std::string out;
  FILE* pipe = popen(command.c_str(), "r");
  REQUIRE(pipe != nullptr);
  char piece[4096];
  for (std::size_t n = 0; (n = std::fread(piece, 1, sizeof piece, pipe)) > 0;) out.append(piece, n);
  CHECK(pclose(pipe) == 0);
  return out;
}

}  // namespace

TEST_CASE("gzip unpacks what was packed") {
  std::mt19937 random(7);
  std::string noise(300000, '\0');
  for (char& c : noise) c = static_cast<char>(random());
  std::string json = "[";
  for (int i = 0; i < 20000; ++i) json += "{\"at\":" + std::to_string(1795600000000 + i * 60000) + ",\"value\":12.5},";
  for (const std::string& text : {std::string(), std::string("a"), std::string(2000000, 'x'), noise, json}) {
    const std::string packed = Gzip(text);
    CHECK(packed.size() < text.size() + 1000);
    CHECK(ByGzipProgram(packed) == text);
  }
  CHECK(Gzip(json).size() < json.size() / 5);
}

TEST_CASE("a client takes gzip if it says so with any weight but none (RFC 9110 section 12.5.3)") {
  for (const char* header :
       {"gzip", "GZip", "br, gzip", "gzip;q=0.5", "gzip; q=1", "deflate,gzip ;q=0.001, br", "gzip;q=1.000"}) {
    INFO(header);
    CHECK(AcceptsGzip(header));
  }
  for (const char* header :
       {"", "br", "identity", "gzip;q=0", "gzip; q=0.000", "gzip;Q=0", "xgzip", "gzipx", "*", ",,;,"}) {
    INFO(header);
    CHECK_FALSE(AcceptsGzip(header));
  }
}
