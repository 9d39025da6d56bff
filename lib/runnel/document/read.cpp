#include <yaml-cpp/exceptions.h>
#include <yaml-cpp/parser.h>

#include <algorithm>
#include <sstream>

#include "runnel/document/builder.h"
#include "runnel/document/lines.h"
#include "runnel/document/quote.h"
#include "runnel/document/syntax_words.h"
#include "runnel/document/text_check.h"
#include "runnel/document/tree.h"

namespace runnel::document {

namespace {

Finding error(const char* code, std::string message, std::string advice, Mark mark) {
  Finding f;
  f.code = code;
  f.message = std::move(message);
  f.advice = std::move(advice);
  f.mark = std::move(mark);
  return f;
}

/// Notices that the parser starts another document and stops it there. The parser is asked only once more,
/// never in a loop, which a stray comma could keep going for ever.
class NextDocument : public Builder {
 public:
  using Builder::Builder;
  void OnDocumentStart(const YAML::Mark& mark) override {
    where = mark_at(mark);
    throw Stop{};
  }
  Mark where;
};

/// True if a line of three dashes or dots ends the first document before or on `line`.
bool document_ended(std::string_view text, int line) {
  for (int i = 1; i <= line && !text.empty(); ++i) {
    const std::string_view start = text.substr(0, std::min<std::size_t>(4, text.find('\n')));
    const bool sign = start.substr(0, 3) == "---" || start.substr(0, 3) == "...";
    if (i > 1 && sign && (start.size() == 3 || start[3] == ' ')) return true;
    const auto end = text.find('\n');
    text.remove_prefix(end == std::string_view::npos ? text.size() : end + 1);
  }
  return false;
}

void check_rest(YAML::Parser& parser, std::string_view text, const std::string& file,
                std::vector<Finding>& findings) {
  NextDocument next(text, file);
  try {
    if (!parser.HandleNextDocument(next)) return;
  } catch (const Stop&) {
  }
  if (document_ended(text, next.where.line)) {
    findings.push_back(error("yaml-second-document", "a second document starts here; a file holds one",
                             "put the second part into a file of its own", next.where));
  } else {
    findings.push_back(error("yaml-text-not-read", "this text does not belong to anything before it",
                             "check commas, brackets and the indent of this line", next.where));
  }
}

void check_root(const Node* root, const std::string& file, std::vector<Finding>& findings) {
  if (root == nullptr || root->kind == Node::Kind::missing) {
    findings.push_back(
        error("yaml-empty", "the file holds nothing", "start with a line `name: value`", {file, 1, 1, 1}));
  } else if (root->kind != Node::Kind::map) {
    const char* what = root->kind == Node::Kind::sequence ? "a list" : "a text";
    findings.push_back(error("yaml-root-not-entries",
                             std::string("the file is ") + what + ", but it must be entries `name: value`",
                             "write a name and a colon at the start of the first line", root->mark));
  }
}

Mark whole_line(std::string_view text, int line, const std::string& file) {
  const std::string_view words = line_of(text, line);
  const auto first = std::min(words.find_first_not_of(' '), words.size());
  const auto length = std::max<std::size_t>(1, words.size() - first);
  return {file, line, static_cast<int>(first) + 1, static_cast<int>(length)};
}

/// What the parser noticed, in plain words and at the best place.
Finding reworded(const YAML::Exception& e, std::string_view text, const std::string& file,
                 const Builder& builder) {
  Mark mark = e.mark.is_null() ? Mark{file, 1, 1, 1} : builder.mark_at(e.mark);
  SyntaxWords words = syntax_words(e.msg, text, mark.line);
  if (words.lines_up > 0) mark = whole_line(text, mark.line - words.lines_up, file);
  Finding f = error("yaml-syntax", std::move(words.message), std::move(words.advice), mark);
  const Mark bracket = builder.open_bracket();
  if (bracket.known()) {
    f.other = bracket;
    f.other_note = "the bracket or brace that is still open";
  }
  return f;
}

/// Parses; everything the parser throws ends here.
void parse(const std::string& text, const std::string& file, Builder& builder,
           std::vector<Finding>& findings) {
  try {
    std::istringstream stream(text);
    YAML::Parser parser(stream);
    parser.HandleNextDocument(builder);
    check_rest(parser, text, file, findings);
  } catch (const Stop&) {
  } catch (const YAML::Exception& e) {
    builder.forget_doubtful_names();
    findings.push_back(reworded(e, text, file, builder));
  }
}

}  // namespace

Checked<std::unique_ptr<Node>> read(std::string_view text, const std::string& file) {
  Checked<std::unique_ptr<Node>> out;
  out.findings = check_text(text, file);
  if (any_error(out.findings)) return out;  // the parser must not see such bytes
  const std::string clean = normalised(text);
  Builder builder(clean, file);
  std::vector<Finding> outside;
  parse(clean, file, builder, outside);
  out.findings = builder.take_findings();
  out.findings.insert(out.findings.end(), outside.begin(), outside.end());
  std::unique_ptr<Node> root = builder.take_root();
  const bool broken = any_error(out.findings);
  if (!broken || (root && root->kind != Node::Kind::map && outside.empty())) {
    check_root(root.get(), file, out.findings);
  }
  if (!any_error(out.findings)) out.value = std::move(root);
  return out;
}

}  // namespace runnel::document
