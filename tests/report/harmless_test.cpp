#include "runnel/report/harmless.h"

#include <catch2/catch.hpp>

using runnel::report::cut;
using runnel::report::display_width;
using runnel::report::harmless;

TEST_CASE("ordinary text comes back unchanged") {
  for (const char* text : {"", "barn tank", "Quelle am Hügel", "泉", "1/2 in", "\xf0\x9f\x92\xa7"})
    CHECK(harmless(text) == text);
}

TEST_CASE("what steers a terminal is shown instead") {
  CHECK(harmless("a\x1b[31mb") == "a\\x1b[31mb");
  CHECK(harmless("a\nb\tc\r") == "a\\x0ab\\x09c\\x0d");
  CHECK(harmless(std::string("a\0b", 3)) == "a\\x00b");
  CHECK(harmless("\x7f") == "\\x7f");
  CHECK(harmless("\xc2\x9b"
                 "2J") == "\\u{9b}2J");  // C1 control sequence introducer
  CHECK(harmless("\xe2\x80\xae"
                 "txt") == "\\u{202e}txt");        // turns the direction of writing
  CHECK(harmless("\xe2\x80\xa8") == "\\u{2028}");  // line separator
  CHECK(harmless("\xe2\x80\x8b") == "\\u{200b}");  // a blank of no width
}

TEST_CASE("bytes that are not UTF-8 are replaced one by one") {
  CHECK(harmless("a\xff\xfe") == "a\xef\xbf\xbd\xef\xbf\xbd");
  CHECK(harmless("\xc0\xaf") == "\xef\xbf\xbd\xef\xbf\xbd");                  // overlong
  CHECK(harmless("\xed\xa0\x80") == "\xef\xbf\xbd\xef\xbf\xbd\xef\xbf\xbd");  // half of a surrogate pair
  CHECK(harmless("\xe2\x82") == "\xef\xbf\xbd\xef\xbf\xbd");                  // cut off
  CHECK(harmless("\xf4\x90\x80\x80").size() == 12);                           // above U+10FFFF
}

TEST_CASE("widths count columns, not bytes") {
  CHECK(display_width("Hügel") == 5);
  CHECK(display_width("泉") == 2);
  CHECK(cut("barn tank", 9) == "barn tank");
  CHECK(cut("barn tank", 8) == "barn ...");
  CHECK(cut("泉泉泉泉", 6) == "泉...");
}
