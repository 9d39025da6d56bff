#include "runnel/document/syntax_words.h"

#include <yaml-cpp/exceptions.h>

#include <array>

#include "runnel/document/lines.h"

namespace runnel::document {

namespace {

struct Rewording {
  const char* theirs;  ///< how the parser's message begins
  const char* message;
  const char* advice;
};

constexpr const char* indent_advice =
    "write `name: value`, and indent entries of the same block by the same number of spaces";

const std::array<Rewording, 29> rewordings{{
    {YAML::ErrorMsg::END_OF_MAP, "this does not fit the block it stands in", indent_advice},
    {YAML::ErrorMsg::END_OF_SEQ, "this does not fit the list it stands in",
     "start every item of a list with `- `, all of them at the same indent"},
    {YAML::ErrorMsg::END_OF_MAP_FLOW, "a {{ is not closed by a }}, or a comma is missing between two entries",
     "close the braces and put a comma between entries: {{at: 3 ft, loss: 1.2}}"},
    {YAML::ErrorMsg::END_OF_SEQ_FLOW, "a [ is not closed by a ], or a comma is missing between two items",
     "close the brackets and put a comma between items: [120, 4741]"},
    {YAML::ErrorMsg::FLOW_END, "a ] or }} closes something that was not opened",
     "check that brackets and braces come in pairs"},
    {YAML::ErrorMsg::MAP_VALUE, "a colon stands where no value can follow",
     "check the indent of this line; put a text that holds a colon and a space in quotes"},
    {YAML::ErrorMsg::MAP_KEY, "a name stands where none can", indent_advice},
    {YAML::ErrorMsg::BLOCK_ENTRY, "a list item (`- `) stands where none can",
     "start the list on a line of its own under its name"},
    {YAML::ErrorMsg::EOF_IN_SCALAR, "a text in quotes is never closed", "add the closing quote"},
    {YAML::ErrorMsg::DOC_IN_SCALAR, "a line of --- or ... stands inside a text in quotes",
     "close the quote before it, or take the line out"},
    {YAML::ErrorMsg::CHAR_IN_SCALAR, "a character stands here that a text cannot hold",
     "put the whole text in quotes"},
    {YAML::ErrorMsg::INVALID_ESCAPE, "a backslash in double quotes is followed by an unknown letter",
     "use single quotes, or write the backslash twice"},
    {YAML::ErrorMsg::INVALID_HEX, "a \\x or \\u in double quotes is not followed by hexadecimal digits",
     "use single quotes, or write the backslash twice"},
    {YAML::ErrorMsg::INVALID_UNICODE, "a \\u in double quotes names no character",
     "type the character itself"},
    {YAML::ErrorMsg::UNKNOWN_TOKEN, "a value cannot start with this sign", "put the value in quotes"},
    {YAML::ErrorMsg::TAB_IN_INDENTATION, "this line is indented with a tab",
     "indent with spaces only; two for each level is the custom"},
    {YAML::ErrorMsg::ZERO_INDENT_IN_BLOCK, "the digit after | or > cannot be 0", "delete the digit"},
    {YAML::ErrorMsg::CHAR_IN_BLOCK, "nothing but a comment can follow | or > on the same line",
     "start the text on the next line"},
    {YAML::ErrorMsg::ALIAS_CONTENT, "a reference (*) cannot have a value of its own",
     "references are not used in these files; write the value out"},
    {YAML::ErrorMsg::UNKNOWN_ANCHOR, "a reference (a word that starts with *) stands here",
     "references are not used in these files; write the value out, or put it in quotes if the * belongs to "
     "it"},
    {YAML::ErrorMsg::ALIAS_NOT_FOUND, "a value cannot start with *", "put the value in quotes"},
    {YAML::ErrorMsg::CHAR_IN_ALIAS, "a value cannot start with *", "put the value in quotes"},
    {YAML::ErrorMsg::ANCHOR_NOT_FOUND, "a value cannot start with &", "put the value in quotes"},
    {YAML::ErrorMsg::CHAR_IN_ANCHOR, "a value cannot start with &", "put the value in quotes"},
    {YAML::ErrorMsg::CHAR_IN_TAG_HANDLE, "a value cannot start with !", "put the value in quotes"},
    {YAML::ErrorMsg::TAG_WITH_NO_SUFFIX, "a value cannot start with !", "put the value in quotes"},
    {YAML::ErrorMsg::END_OF_VERBATIM_TAG, "a value cannot start with !", "put the value in quotes"},
    {YAML::ErrorMsg::BAD_FILE, "blocks are nested far too deep here",
     "a model needs fewer than ten levels; look for brackets that are never closed"},
    {"", "the file cannot be understood from here on", indent_advice},
}};

/// True for a line that holds words but no `name: value`; a line that opens or continues something else gets
/// the benefit of the doubt.
bool lacks_entry(std::string_view line) {
  while (!line.empty() && line.back() == ' ') line.remove_suffix(1);
  const auto first = line.find_first_not_of(' ');
  if (first == std::string_view::npos ||
      std::string_view("-#\"'[{|>").find(line[first]) != std::string_view::npos) {
    return false;
  }
  return line.back() != ':' && line.find(": ") == std::string_view::npos;
}

SyntaxWords no_entry(std::string_view line, int lines_up) {
  const bool colon = line.find(':') != std::string_view::npos;
  return {colon ? "a space is missing behind the colon" : "a colon is missing on this line",
          "write `name: value`; put a text that goes over several lines in quotes", lines_up};
}

}  // namespace

SyntaxWords syntax_words(const std::string& parser_message, std::string_view text, int line) {
  const std::string_view here = line_of(text, line);
  if (parser_message == YAML::ErrorMsg::END_OF_MAP && lacks_entry(here)) return no_entry(here, 0);
  if (parser_message == YAML::ErrorMsg::MAP_VALUE && line > 1) {
    // Without its colon a line runs on into the next one, and only that one's colon is noticed.
    const std::string_view before = line_of(text, line - 1);
    if (lacks_entry(before)) return no_entry(before, 1);
  }
  const std::string_view theirs = parser_message;
  for (const Rewording& r : rewordings) {
    const std::string_view start = r.theirs;
    if (theirs.substr(0, start.size()) == start) return {r.message, r.advice, 0};
  }
  return {};  // not reached: the last rewording fits every message
}

}  // namespace runnel::document
