// `pipe:` of a line, and `pipes:` that a model defines itself.
#include "runnel/document/quote.h"
#include "runnel/input/fields.h"
#include "runnel/input/sections.h"
#include "runnel/pipes/called.h"

namespace runnel::input {

namespace {

using document::Node;

/// A pipe described where it is used.
std::optional<pipes::Pipe> described(Reader& reader, const Node& node, const std::string& name) {
  std::vector<Finding> findings;
  auto pipe = pipes::read_pipe(node, findings, {}, "pipe " + document::quote(name));
  reader.take(std::move(findings));
  if (!pipe) reader.spoil();
  if (pipe && pipe->name.empty()) pipe->name = name;
  return pipe;
}

/// A name of the catalogue means the same pipe in every model.
bool taken(Reader& reader, const std::string& name, const Mark& mark) {
  if (!pipes::standard_catalogue().find(name)) return false;
  reader.error(
      "catalogue-name-taken", mark,
      "the catalogue has a pipe named " + document::quote(name) + ", which no model can make another",
      "give yours a name of its own, for example " + document::quote("own " + name));
  return true;
}

void read_pipes_block(Reader& reader, const Node& node, OwnPipes& own) {
  each_named(reader, node, node.mark, "pipes",
             [&](const std::string& name, const Mark& mark, const Node& value) {
               if (taken(reader, name, mark)) return;
               if (auto pipe = described(reader, value, name)) {
                 pipe->name = name;
                 if (!own.add(std::move(*pipe)))
                   reader.error("pipe-named-twice", mark,
                                "a pipe named " + document::quote(name) + " is there already",
                                "blanks, hyphens and capital letters do not make another name");
               }
             });
}

}  // namespace

OwnPipes read_own_pipes(Reader& reader, const Node& node) {
  OwnPipes own;
  if (node.kind != Node::Kind::scalar) {
    read_pipes_block(reader, node, own);
    return own;
  }
  const auto text = reader.side_file(node.text);
  if (!text) {
    reader.error("no-such-file", node.mark,
                 "the file of pipes " + document::quote(node.text) + " cannot be read",
                 "a file name counts from the folder of the model");
    return own;
  }
  auto document = document::read(*text, node.text);
  if (document && (*document.value)->find("catalogue")) {  // written like the files of models/catalogue
    auto catalogue = pipes::read_catalogue(*text, node.text);
    reader.take(std::move(catalogue.findings));
    for (const std::string& name : catalogue ? catalogue.value->names() : std::vector<std::string>{})
      taken(reader, name, node.mark);
    return catalogue ? std::move(*catalogue.value) : own;
  }
  reader.take(std::move(document.findings));
  if (document) read_pipes_block(reader, **document.value, own);
  return own;
}

pipes::Pipe read_pipe_choice(Reader& reader, const Node& node, const OwnPipes& own, const std::string& what) {
  if (node.kind == Node::Kind::map) return described(reader, node, what).value_or(pipes::Pipe{});
  const auto name = read_text(reader, node, what);
  if (!name) return {};
  if (const auto* pipe = own.find(*name)) return *pipe;
  const auto& catalogue = pipes::standard_catalogue();
  if (const auto* pipe = catalogue.find(*name)) return *pipe;
  std::vector<std::string> names;
  if (reader.suggests()) {
    names = catalogue.names();
    for (const std::string& mine : own.names()) names.push_back(mine);
  }
  const std::string near = reader.suggest(*name, names);
  const auto meant =
      near.empty() && reader.suggests() ? pipes::called(catalogue, *name) : std::vector<const pipes::Pipe*>{};
  reader.error("no-such-pipe", node.mark, "no pipe is named " + document::quote(*name),
               !near.empty()       ? near
               : meant.size() == 1 ? "write " + meant.front()->name
               : !meant.empty()    ? "the print on the pipe tells which of these it is: " +
                                      pipes::listed(meant) + "; write for example " + meant.front()->name
                                : "`runnel pipes` lists those known; or describe it: {{bore: 38.1 mm, "
                                  "roughness: 0.0015 mm, C: 150}}");
  return {};
}

}  // namespace runnel::input
