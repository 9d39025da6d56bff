// What an answer says, apart from how it is laid out.
#include "runnel/report/document.h"

#include <catch2/catch.hpp>

#include "runnel/report/render_text.h"
#include "runnel/verdict/answer.h"
#include "verdict/sample.h"

namespace report = runnel::report;
using report::Align;
using report::Chart;
using report::Document;
using report::Fit;
using report::Prose;
using report::Section;
using report::Table;
using report::TextOptions;
using runnel::Figure;
using runnel::Kind;

namespace {

TextOptions narrow(int width) {
  TextOptions options;
  options.width = width;
  return options;
}

/// A second renderer, as plain as can be: nothing in a document may be fit for a terminal alone.
class Page {
 public:
  explicit Page(const Document& document) {
    for (const Section& section : document.sections()) {
      if (!section.title.empty()) put("h2", section.title);
      for (const report::Block& block : section.blocks) std::visit(*this, block);
    }
  }
  void operator()(const Prose& prose) {
    put(prose.manner == report::Manner::act    ? "li value=" + std::to_string(prose.number)
        : prose.manner == report::Manner::item ? "li"
                                               : "p",
        prose.lead + prose.text);
  }
  void operator()(const Table& table) {
    for (const report::Column& column : table.columns())
      put(column.align == Align::right ? "th class=figure" : "th", column.title);
    for (const Table::Row& row : table.rows()) {
      if (row.cells.empty()) put("td colspan=all", row.note);
      for (const report::Cell& cell : row.cells)
        if (const auto* words = std::get_if<std::string>(&cell))
          put("td", *words);
        else
          put("td", runnel::units::show(std::get<Figure>(cell), runnel::units::UnitSystem::si));
    }
  }
  void operator()(const Chart& chart) { put("svg", std::to_string(chart.course.size())); }
  std::string text;

 private:
  void put(const std::string& tag, const std::string& words) {
    text += "<" + tag + ">";
    for (const char c : words) text += c == '<' ? "&lt;" : c == '&' ? "&amp;" : std::string(1, c);
    text += "\n";
  }
};

Document answer(runnel::network::Model model, const TextOptions& options = {}) {
  const auto answered = runnel::verdict::answer_model(model);
  REQUIRE(answered);
  return report::answer_document(*answered.value, options);
}

std::vector<std::string> titles(const Document& document) {
  std::vector<std::string> all;
  for (const Section& section : document.sections()) all.push_back(section.title);
  return all;
}

}  // namespace

TEST_CASE("a document that is appended goes on where the other ends") {
  Document above, below;
  above.paragraph("a").section("One").paragraph("b", 1);
  below.paragraph("c", 1).section("Two").paragraph("d", 1);
  const Document both = above + below;
  CHECK(titles(both) == std::vector<std::string>{"", "One", "Two"});
  REQUIRE(both.find("One"));
  CHECK(both.find("One")->blocks.size() == 2);
  CHECK(both.find("Three") == nullptr);
  CHECK(render_text(both, {}) == "a\n\nOne\n  b\n  c\n\nTwo\n  d\n");
  CHECK(lines_of(both, {}) == 8);
  CHECK(Document().empty());
  CHECK_FALSE(Document().section().empty());
}

TEST_CASE("prose hangs as its manner asks") {
  const std::string words = "aaaaaaaaaaaaaaaaaaaa bbbbbbbbbbbbbbbbbbbb cccccccccccccccccccc dd";
  const auto said = [&](const Document& document) { return render_text(document, narrow(60)); };
  const std::string first = words.substr(0, 41), rest = words.substr(42);
  CHECK(said(Document().paragraph(words, 1)) == "  " + first + "\n  " + rest + "\n");
  CHECK(said(Document().line(words)) == "  " + first + "\n    " + rest + "\n");
  CHECK(said(Document().item(words, 0)) == "- " + first + "\n  " + rest + "\n");
  CHECK(said(Document().act(3, words)) == "  3. " + first + "\n     " + rest + "\n");
  CHECK(said(Document().entry(words)) == first + "\n    " + rest + "\n");
}

TEST_CASE("words that lead stand out and take no room for it") {
  TextOptions coloured = narrow(60);
  coloured.colour = true;
  const Document document = Document().add(Prose{.text = ": what it is", .lead = "word"});
  CHECK(render_text(document, narrow(60)) == "word: what it is\n");
  CHECK(render_text(document, coloured) == "\x1b[1mword\x1b[0m: what it is\n");
}

TEST_CASE("a column tells the unit of its figures once, a figure elsewhere its own") {
  Table table({{"gets", Align::right, Kind::flow}, {"then"}, {.title = "rough", .unit = "mm"}});
  table.row({Figure{Kind::flow, 1e-3}, Figure{Kind::length, 20.0}, "0.1"});
  table.row({report::figure_or(std::nullopt, Kind::flow, "-"), "", "0.2"});
  TextOptions si;
  CHECK(render_text(Document().add(table), si) ==
        "  gets  then    rough\n"
        "   L/s          mm\n"
        "  1.00  20.0 m  0.1\n"
        "     -          0.2\n");
}

TEST_CASE("a table too wide for the screen gives way where its columns say") {
  SECTION("cells go below their row, those on the right first") {
    Table table({{}, {.fit = Fit::below}, {.fit = Fit::below}});
    table.row({"name", "some words", std::string(40, 'x')});
    CHECK(render_text(Document().add(table), narrow(60)) ==
          "  name  some words  " + std::string(40, 'x') + "\n");
    table.row({"n", std::string(30, 'y'), "z"});
    CHECK(render_text(Document().add(table), narrow(60)) == "  name  some words\n    " +
                                                                std::string(40, 'x') + "\n  n     " +
                                                                std::string(30, 'y') + "\n    z\n");
  }
  SECTION("a long name stands above its row") {
    Table table({{.fit = Fit::above}, {"", Align::right, Kind::length}});
    table.row({std::string(29, 'n'), Figure{Kind::length, 5.0}});
    CHECK_THAT(render_text(Document().add(table), narrow(60)),
               Catch::Contains("  " + std::string(29, 'n') + "\n"));
  }
  SECTION("words are cut to what the other columns leave") {
    Table table({{}, {.fit = Fit::cut}});
    table.row({std::string(20, 'a'), std::string(80, 'b')});
    CHECK(render_text(Document().add(table), narrow(60)) ==
          "  " + std::string(20, 'a') + "  " + std::string(33, 'b') + "...\n");
  }
}

TEST_CASE("what could steer a terminal is kept in a document and made harmless in its text") {
  Document document;
  document.paragraph("a \x1b[2J b").section("t\x07").item("<b> & c");
  Table table({{"h\x1b"}});
  table.row({"c\x1b"});
  document.add(table);
  const std::string text = render_text(document, {});
  CHECK(text.find('\x1b') == std::string::npos);
  CHECK(text.find('\x07') == std::string::npos);
  CHECK_THAT(text, Catch::Contains("<b> & c"));
  CHECK_THAT(Page(document).text, Catch::Contains("<li>&lt;b> &amp; c"));
}

TEST_CASE("an answer is sections and tables that any page can show") {
  runnel::network::Model model = sample::system();
  model.asks = {sample::ask_flow("trough", 99.0)};
  const Document brief = answer(model);
  CHECK(brief.find("Do this") != nullptr);
  bool table = false;
  for (const Section& section : brief.sections())
    for (const report::Block& block : section.blocks) table = table || std::holds_alternative<Table>(block);
  CHECK(table);

  TextOptions all;
  all.every_point = true;
  const Document full = answer(model, all);
  for (const char* title : {"Do this", "Where the water goes", "Worked out with", "Checked", "Mind"})
    CHECK(full.find(title) != nullptr);
  // Whatever the text says, the page says: each word of a section's title and each act.
  const std::string page = Page(full).text;
  for (const std::string& title : titles(full)) CHECK_THAT(page, Catch::Contains(title));
  CHECK_THAT(page, Catch::Contains("<li value=1>"));
  CHECK_THAT(page, Catch::Contains("<th class=figure>station"));
}
