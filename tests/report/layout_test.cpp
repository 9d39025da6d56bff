#include "runnel/report/layout.h"

#include <catch2/catch.hpp>

using runnel::report::Align;
using runnel::report::Columns;
using runnel::report::Paint;
using runnel::report::paragraph;

TEST_CASE("paragraphs break at blanks and keep their indents") {
  CHECK(paragraph("one two three", 0, 2, 7) == "one two\n  three\n");
  CHECK(paragraph("one two three", 2, 2, 40) == "  one two three\n");
  CHECK(paragraph("averyverylongword b", 0, 0, 5) == "averyverylongword\nb\n");
  CHECK(paragraph("", 2, 2, 40) == "\n");
}

TEST_CASE("columns line up by what is seen") {
  Columns c({Align::left, Align::right});
  c.row({"Hügel", "1.0"});
  c.row({"ab", "10.0"});
  CHECK(c.text(1) == " Hügel   1.0\n ab     10.0\n");
  CHECK(c.width(1) == 12);  // 1 + 5 + 2 + 4
  c.note("a line of its own");
  CHECK(c.width(1) == 12);
  CHECK_THAT(c.text(1), Catch::EndsWith(" a line of its own\n"));
}

TEST_CASE("a column that is empty everywhere takes no room") {
  Columns c({Align::left, Align::left, Align::left});
  c.row({"a", "", "b"});
  CHECK(c.text(0) == "a  b\n");
}

TEST_CASE("colours only when asked for") {
  CHECK(Paint{false}.good("x") == "x");
  CHECK(Paint{true}.good("x") == "\x1b[32mx\x1b[0m");
}
