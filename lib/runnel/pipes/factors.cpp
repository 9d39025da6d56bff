#include "runnel/pipes/factors.h"

#include <stdexcept>

#include "runnel/base/embedded.h"
#include "runnel/document/quote.h"
#include "runnel/document/tree.h"
#include "runnel/pipes/fields.h"

namespace runnel::pipes {

namespace {

using document::Node;
using units::Dimension;

constexpr double kelvin_at_zero_celsius = 273.15;  // exact by definition of the Celsius scale

/// Reads one `[73 degF, 1.00]`, or reports what is wrong with it.
bool read_point(const Node& node, Fields& fields, FactorTable& table) {
  const bool pair = node.items.size() == 2 && node.items[0]->kind == Node::Kind::scalar &&
                    node.items[1]->kind == Node::Kind::scalar;
  const auto temperature = pair ? units::parse(node.items[0]->text, Dimension::temperature) : units::Parsed{};
  const auto factor = pair ? units::parse(node.items[1]->text, Dimension::number) : units::Parsed{};
  if (!pair || !temperature.ok() || !factor.ok() || !(factor.si > 0.0) || factor.si > 1.0) {
    fields.error("bad-factor", node.mark, "a point must be a temperature and a factor above 0 and at most 1",
                 "write for example [90 degF, 0.75]");
    return false;
  }
  const bool first = table.points.empty();
  if (first ? factor.si != 1.0 : temperature.si <= table.points.back().temperature_c) {
    fields.error("bad-factor", node.mark, "the temperatures must rise from a first one with the factor 1",
                 "put the points in order");
    return false;
  }
  table.points.push_back({temperature.si, factor.si});
  return true;
}

FactorTable read_table(const std::string& name, const Node& node, std::vector<Finding>& findings) {
  FactorTable table;
  table.name = name;
  Fields fields(node, findings, "factor table " + document::quote(name));
  if (!fields.usable()) return table;
  if (auto word = fields.word("between", {"straight", "inverse absolute temperature"}))
    table.between = static_cast<Between>(*word);
  if (auto word = fields.word("certainty", {"found", "secondary", "from memory", "computed", "user"}))
    table.certainty = static_cast<Certainty>(*word);
  if (auto text = fields.text("source")) table.source = *text;
  const Node* points = fields.find("points");
  if (points == nullptr || points->items.size() < 2) {
    fields.missing("points", "points: [[20 degC, 1.00], [40 degC, 0.74]]");
  } else {
    for (const auto& point : points->items) {
      if (!read_point(*point, fields, table)) break;
    }
  }
  fields.close();
  return table;
}

const std::vector<FactorTable>& standard_tables() {
  static const std::vector<FactorTable> tables = [] {
    for (const base::EmbeddedFile& file : base::embedded_files()) {
      if (file.name != "temperature_factors.yaml") continue;
      auto read = read_factor_tables(file.text, file.name);
      if (read) return *read.value;
    }
    // Our own data are built into the library and tested: this is a defect of ours, not of the user.
    throw std::logic_error("temperature_factors.yaml inside the library is absent or wrong");
  }();
  return tables;
}

}  // namespace

Checked<std::vector<FactorTable>> read_factor_tables(std::string_view text, const std::string& file) {
  Checked<std::vector<FactorTable>> out;
  auto document = document::read(text, file);
  out.findings = std::move(document.findings);
  if (!document) return out;
  std::vector<FactorTable> tables;
  Fields fields(**document.value, out.findings, "the file");
  for (const char* key : {"description", "source", "changed", "units", "certainty"}) fields.text(key);
  if (fields.find("catalogue") == nullptr) fields.missing("catalogue", "catalogue: temperature factors");
  fields.word("catalogue", {"temperature factors"});
  const Node* all = fields.find("tables");
  if (all == nullptr) {
    fields.missing("tables", "tables: {pvc: {points: ..}}");
  } else {
    for (const document::Entry& entry : all->entries)
      tables.push_back(read_table(entry.key, *entry.value, out.findings));
  }
  fields.close();
  if (!any_error(out.findings)) out.value = std::move(tables);
  return out;
}

double FactorTable::at(double temperature_c) const {
  if (temperature_c <= points.front().temperature_c) return 1.0;
  for (std::size_t i = 1; i < points.size(); ++i) {
    const FactorPoint& low = points[i - 1];
    const FactorPoint& high = points[i];
    if (temperature_c > high.temperature_c) continue;
    double share = (temperature_c - low.temperature_c) / (high.temperature_c - low.temperature_c);
    if (between == Between::inverse_absolute) {
      // Linear in 1/T: the share is that of T itself times high/T [ppi-tr3].
      share *= (high.temperature_c + kelvin_at_zero_celsius) / (temperature_c + kelvin_at_zero_celsius);
    }
    return low.factor + share * (high.factor - low.factor);
  }
  return 0.0;
}

const FactorTable* factor_table(std::string_view name) {
  for (const FactorTable& table : standard_tables()) {
    if (table.name == name) return &table;
  }
  return nullptr;
}

std::vector<std::string> factor_table_names() {
  std::vector<std::string> names;
  for (const FactorTable& table : standard_tables()) names.push_back(table.name);
  return names;
}

}  // namespace runnel::pipes
