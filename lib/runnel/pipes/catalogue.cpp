#include "runnel/pipes/catalogue.h"

#include <stdexcept>

#include "runnel/base/embedded.h"
#include "runnel/document/quote.h"
#include "runnel/document/tree.h"
#include "runnel/pipes/fields.h"
#include "runnel/pipes/name_key.h"

namespace runnel::pipes {

namespace {

using document::Node;

/// The opening lines of a file.
Family read_opening(Fields& fields, const std::string& file) {
  Family family;
  family.file = file;
  family.description = fields.text("description").value_or("");
  family.source = fields.text("source").value_or("");
  family.changed = fields.text("changed").value_or("");
  family.units = fields.text("units").value_or("");
  family.certainty = fields.text("certainty").value_or("");
  if (fields.find("catalogue") == nullptr) fields.missing("catalogue", "catalogue: pipes");
  fields.word("catalogue", {"pipes"});
  return family;
}

void read_rows(const Node& rows, const Description& common, Fields& fields, std::vector<Finding>& findings,
               Catalogue& catalogue) {
  for (const document::Entry& row : rows.entries) {
    auto pipe = read_pipe(*row.value, findings, common, "pipe " + document::quote(row.key));
    if (!pipe) continue;
    pipe->name = row.key;
    if (catalogue.add(std::move(*pipe))) continue;
    fields.error("pipe-named-twice", row.key_mark,
                 "a pipe of the name " + document::quote(row.key) + " is there already",
                 "blanks, hyphens and capital letters do not make another name");
  }
}

/// The embedded files that hold pipes; fittings and factors are in others.
bool holds_pipes(const base::EmbeddedFile& file) { return file.text.find("catalogue: pipes\n") == 0; }

}  // namespace

const Pipe* Catalogue::find(std::string_view name) const {
  const std::string key = name_key(name);
  for (const char* unit : {"", "in", "mm"}) {
    const auto found = by_key_.find(key + unit);
    if (found != by_key_.end()) return &pipes_[found->second];
  }
  return nullptr;
}

std::vector<std::string> Catalogue::names() const {
  std::vector<std::string> out;
  out.reserve(pipes_.size());
  for (const Pipe& pipe : pipes_) out.push_back(pipe.name);
  return out;
}

bool Catalogue::add(Pipe pipe) {
  const auto [place, fresh] = by_key_.emplace(name_key(pipe.name), pipes_.size());
  if (fresh) pipes_.push_back(std::move(pipe));
  return fresh;
}

Checked<Catalogue> read_catalogue(std::string_view text, const std::string& file) {
  Checked<Catalogue> out;
  auto document = document::read(text, file);
  out.findings = std::move(document.findings);
  if (!document) return out;
  Catalogue catalogue;
  Fields fields(**document.value, out.findings, "the file of pipes");
  Family family = read_opening(fields, file);
  Description common;
  if (const Node* node = fields.find("common"))
    common = read_description(*node, out.findings, {}, "`common`");
  if (common.pipe.source.empty()) common.pipe.source = family.source.empty() ? file : family.source;
  const Node* rows = fields.find("pipes");
  if (rows == nullptr || rows->entries.empty()) {
    fields.missing("pipes", "pipes: {my pipe: {bore: 38.1 mm, roughness: 0.0015 mm, C: 150}}");
  } else {
    read_rows(*rows, common, fields, out.findings, catalogue);
  }
  fields.close();
  family.count = catalogue.pipes().size();
  catalogue.add(std::move(family));
  if (!any_error(out.findings)) out.value = std::move(catalogue);
  return out;
}

const Catalogue& standard_catalogue() {
  static const Catalogue catalogue = [] {
    Catalogue all;
    for (const base::EmbeddedFile& file : base::embedded_files()) {
      if (!holds_pipes(file)) continue;
      const auto read = read_catalogue(file.text, file.name);
      // Our own data are built into the library and tested: a fault in them is a defect of ours.
      if (!read)
        throw std::logic_error(file.name + " inside the library is wrong: " + read.findings.front().message);
      Family family = read.value->families().front();
      family.first = all.pipes().size();
      all.add(std::move(family));
      for (const Pipe& pipe : read.value->pipes()) {
        if (!all.add(pipe)) throw std::logic_error(pipe.name + " stands twice in the library");
      }
    }
    return all;
  }();
  return catalogue;
}

}  // namespace runnel::pipes
