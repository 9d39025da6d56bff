#include "runnel/input/read_model.h"

#include <algorithm>
#include <array>
#include <tuple>

#include "runnel/document/quote.h"
#include "runnel/document/tree.h"
#include "runnel/input/fields.h"
#include "runnel/input/overlay.h"
#include "runnel/input/place_sections.h"
#include "runnel/input/sections.h"
#include "runnel/network/validate.h"

namespace runnel::input {

namespace {

using document::Node;

void read_version(Reader& reader, Fields& fields) {
  const Node* node = fields.need("runnel", "runnel: 1");
  if (!node) return;
  const auto text = read_text(reader, *node, "`runnel`");
  if (text && *text != "1")
    reader.error("unknown-version", node->mark,
                 "this program reads version 1 of the model language, not " + document::quote(*text),
                 "write `runnel: 1`");
}

/// The name of a model that does not give one: its file, without folder and extension.
std::string name_from(const std::string& file) {
  if (file == "-" || file.empty()) return "unnamed";
  const auto slash = file.find_last_of('/');
  const std::string base = slash == std::string::npos ? file : file.substr(slash + 1);
  const auto dot = base.find_last_of('.');
  return dot == std::string::npos || dot == 0 ? base : base.substr(0, dot);
}

void check_places(Reader& reader, const Fields& fields, const Node& root) {
  for (const PlaceSection& section : place_sections)
    if (fields.has(section.key)) return;
  reader.error("no-places", root.mark, "the model has no places: no boxes, tanks, outlets or joints",
               "start with the spring: boxes: {{spring: {{yield: 2 gal/min, outlet: 100 ft, lip: 102 ft}}}}");
}

/// The order matters: site before pressures, places before lines, lines before settings.
network::Model read_root(Reader& reader, const Node& root) {
  Fields fields(reader, root, root.mark, "the model");
  network::Model system;
  read_version(reader, fields);
  system.name = fields.find_text("name").value_or(name_from(reader.file()));
  system.note = fields.find_text("note").value_or("");
  {
    Reader::Object object(reader, network::system_mark(), &root);
    object.place("", root.mark);
    system.site = read_site(reader, fields.find("site"));
    if (const Node* node = fields.find("friction")) system.friction = read_friction(reader, *node);
  }
  OwnPipes own;
  if (const Node* node = fields.find("pipes")) own = read_own_pipes(reader, *node);
  for (const PlaceSection& section : place_sections)
    if (const Node* node = fields.find(section.key)) section.read(reader, *node, system);
  if (const Node* node = fields.find("pipelines")) read_pipelines(reader, *node, own, system);
  if (const Node* node = fields.find("settings")) read_settings(reader, *node, system);
  if (const Node* node = fields.find("asks")) read_asks(reader, *node, system);
  if (const Node* node = fields.find("claims")) read_claims(reader, *node, system);
  if (const Node* node = fields.find("year")) system.year = read_year(reader, *node);
  if (const Node* node = fields.find("collection")) read_collections(reader, *node, system);
  if (const Node* node = fields.find("log")) read_logs(reader, *node, system);
  if (const Node* node = fields.find("ground")) system.ground = read_ground(reader, *node);
  if (const Node* node = fields.find("prices")) read_prices(reader, *node, own, system);
  fields.close();
  check_places(reader, fields, root);
  return system;
}

/// Sorts findings in the order of the text, the model's own first, and drops repetitions at one place.
void tidy(std::vector<Finding>& findings, const std::string& file) {
  const auto order = [&](const Finding& f) {
    return std::make_tuple(f.mark.file != file && !f.mark.file.empty(), f.mark.file, f.mark.line,
                           f.mark.column);
  };
  std::stable_sort(findings.begin(), findings.end(),
                   [&](const Finding& a, const Finding& b) { return order(a) < order(b); });
  const auto same = [](const Finding& a, const Finding& b) {
    return a.code == b.code && a.mark.line == b.mark.line && a.mark.column == b.mark.column &&
           a.message == b.message;
  };
  findings.erase(std::unique(findings.begin(), findings.end(), same), findings.end());
  for (Finding& f : findings)
    if (f.mark.file.empty()) f.mark.file = file;
}

/// Keeps the first `most_told` of each severity. `dropped` were left out before. One finding, placed at the
/// first that is left out, says how many there are.
void shorten(std::vector<Finding>& findings, std::size_t most_told, const std::array<std::size_t, 3>& dropped,
             const std::string& file) {
  std::array<std::size_t, 3> told{}, more = dropped;
  bool marked = false;
  Mark first{file, 1, 1, 1};
  std::vector<Finding> kept;
  for (Finding& finding : findings) {
    const auto severity = static_cast<std::size_t>(finding.severity);
    if (++told[severity] <= most_told) {
      kept.push_back(std::move(finding));
      continue;
    }
    if (!marked) first = finding.mark;
    marked = true;
    ++more[severity];
  }
  findings = std::move(kept);
  const std::size_t all = more[0] + more[1] + more[2];
  if (all == 0) return;
  Finding rest;
  rest.code = "more-findings";
  rest.severity = more[2] > 0 ? Severity::error : Severity::warning;
  rest.message = std::to_string(all) + (all == 1 ? " more finding is" : " more findings are") +
                 " not shown; the first of them stands here";
  rest.advice = "one slip often makes many: mend what is said above, and try again";
  rest.mark = first;
  findings.push_back(std::move(rest));
}

/// Reads what settings change by `with:`, each as a whole model. What is wrong there is reported under the
/// name of the setting.
void read_changed(Reader& reader, const Node& root, const ReadOptions& options, network::Model& system) {
  const Node* settings = root.find("settings");
  if (!settings) return;
  const auto drawn = without(root, "settings");
  for (const document::Entry& entry : settings->entries) {
    const Node* with = entry.value->find("with");
    if (!with) continue;
    for (const char* key : {"settings", "runnel"})
      if (with->find(key))
        reader.error("not-in-a-setting", with->find(key)->mark,
                     std::string("a setting cannot change `") + key + "`");
    if (with->find("settings") || with->find("runnel")) continue;
    const auto changed = laid_over(*drawn, *with);
    Reader other(reader.file(), options);
    network::Model model = read_root(other, *changed);
    // A claim names a setting of the whole model, and the changed model has none.
    for (network::Claim& claim : model.claims) claim.setting.clear();
    other.take(network::validate(model, other.origin()));
    std::vector<Finding> findings = other.take_findings();
    for (Finding& finding : findings)
      finding.message = "under setting " + document::quote(entry.key) + ": " + finding.message;
    const bool sound = !any_error(findings);
    // If it is sound, its warnings are dropped: those on what the setting does not change were already given.
    if (!sound) reader.take(std::move(findings));
    for (network::Setting& setting : system.settings)
      if (sound && setting.name == entry.key)
        setting.instead = std::make_shared<const network::Model>(std::move(model));
  }
}

}  // namespace

ReadModel read_model(std::string_view text, const std::string& file, const ReadOptions& options) {
  ReadModel out;
  auto document = document::read(text, file);
  out.findings = std::move(document.findings);
  if (!document) return out;
  Reader reader(file, options);
  network::Model system = read_root(reader, **document.value);
  reader.take(network::validate(system, reader.origin()));
  out.written_in = reader.written_in();
  std::vector<Finding> own = reader.take_findings();
  if (!any_error(own)) {
    read_changed(reader, **document.value, options, system);
    for (Finding& finding : reader.take_findings()) own.push_back(std::move(finding));
  }
  for (Finding& finding : own) out.findings.push_back(std::move(finding));
  tidy(out.findings, file);
  shorten(out.findings, options.most_told, reader.dropped(), file);
  if (!any_error(out.findings)) out.value = std::move(system);
  return out;
}

}  // namespace runnel::input
