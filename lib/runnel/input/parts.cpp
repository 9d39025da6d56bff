// `parts:` of a pipeline.
#include <algorithm>
#include <cmath>

#include "runnel/document/quote.h"
#include "runnel/input/fields.h"
#include "runnel/input/sections.h"
#include "runnel/network/part_table.h"

namespace runnel::input {

namespace {

using document::Entry;
using document::Node;
using network::Part;
using network::PartKind;

constexpr const char* at_example = "at: 120 ft";

class Parts {
 public:
  Parts(Reader& reader, const OwnPipes& own, const network::Site& site, network::Pipeline& line)
      : reader_(reader), own_(own), site_(site), line_(line) {}

  void read(const Node& node) {
    if (node.kind != Node::Kind::map) {
      reader_.error("bad-part", node.mark, "a part must say what it is and where",
                    "write for example {{ball_valve: V1, at: 3 ft}}");
      return;
    }
    if (node.find("pipe")) return read_change(node);
    if (const Entry* word = find_word(node)) read_part(node, *word);
  }

 private:
  /// The entry that says what the part is.
  const Entry* find_word(const Node& node) {
    static const std::vector<std::string> members = [] {
      std::vector<std::string> all{"at", "loss"};
      for (const network::PartKindRow& row : network::part_kind_rows())
        for (const network::PartKey& key : row.keys) all.emplace_back(key.key);
      return all;
    }();
    const auto& words = network::part_words();
    const Entry* unknown = nullptr;
    for (const Entry& entry : node.entries) {
      if (std::find(words.begin(), words.end(), entry.key) != words.end()) return &entry;
      const bool member = std::find(members.begin(), members.end(), entry.key) != members.end();
      if (!member && !unknown) unknown = &entry;
    }
    if (!unknown) {
      reader_.error("bad-part", node.mark, "this part does not say what it is",
                    "write for example {{ball_valve: V1, at: 3 ft}}");
      return nullptr;
    }
    std::vector<std::string> candidates = words;
    candidates.emplace_back("pipe");
    const std::string near = reader_.suggest(unknown->key, candidates);
    std::string known = "the parts are pipe";
    for (const std::string& word : words) known += ", " + word;
    reader_.error(
        "unknown-part", unknown->key_mark, document::quote(unknown->key) + " is not a part known here",
        near.empty() ? known + "; anything else is written {{fitting: its name, loss: 1.2, at: 3 ft}}"
                     : near);
    return nullptr;
  }

  void read_change(const Node& node) {
    Fields fields(reader_, node, node.mark, "this change of pipe");
    const Node* choice = fields.find("pipe");
    Reader::Object object(reader_, choice->mark, choice);
    network::LaidPipe laid;
    laid.mark = choice->mark;
    laid.pipe = read_pipe_choice(reader_, *choice, own_, "the pipe of " + line_.name);
    laid.from = fields.need_quantity<Length>("at", at_example).value_or(Length{});
    laid.entry_loss = fields.find_number("loss");
    object.place("at", fields.mark("at"));
    object.place("loss", fields.mark("loss"));
    fields.close();
    line_.pipes.push_back(std::move(laid));
  }

  void read_part(const Node& node, const Entry& word) {
    const Reader::Object object(reader_, node.mark, &node);
    Part part;
    part.mark = node.mark;
    part.type = word.key;
    part.kind = network::kind_of_part(word.key);
    const network::PartKindRow& row = network::part_kind_row(part.kind);
    Fields fields(reader_, node, node.mark, "this " + part.type);
    const Node* value = fields.find(word.key.c_str());
    row.called_by_name ? read_name(*value, part) : read_count_or_name(*value, part);
    part.at = fields.need_quantity<Length>("at", at_example).value_or(Length{});
    const auto loss = fields.find_number("loss");
    for (const network::PartKey& key : row.keys) read_key(fields, key, part);
    fields.close();
    if (loss) {
      part.loss = *loss;
      part.loss_source = "the model";
      if (part.open == 1.0 || part.open == 0.0) part.open_loss = *loss;
    } else if (!fields.has("loss")) {
      part.loss.reset();
    }
    line_.parts.push_back(std::move(part));
  }

  void read_key(Fields& fields, const network::PartKey& key, Part& part) {
    const Node* node = key.needed ? fields.need(key.key, key.example) : fields.find(key.key);
    if (!node) return;
    const std::string label = fields.label(key.key);
    if (const auto* share = std::get_if<double Part::*>(&key.member))
      part.** share = read_opening(reader_, *node, label).value_or(1.0);
    else
      part.*std::get<Pressure Part::*>(key.member) =
          read_pressure(reader_, *node, label, site_.specific_weight_nm3()).value_or(Pressure{});
  }

  void read_name(const Node& value, Part& part) {
    if (const auto name = read_text(reader_, value, "the name of this " + part.type)) part.name = *name;
  }

  void read_count_or_name(const Node& value, Part& part) {
    const auto text = read_text(reader_, value, "the number of this " + part.type);
    if (!text) return;
    const auto number = units::parse(*text, units::Dimension::number);
    if (!number.ok()) {
      part.name = *text;
    } else if (number.si != std::floor(number.si) || std::abs(number.si) > 10'000.0) {
      reader_.error("bad-count", value.mark, document::quote(*text) + " is not a number of fittings",
                    "write how many of them there are, for example elbow_90: 2");
    } else {
      part.count = static_cast<int>(number.si);
    }
  }

  Reader& reader_;
  const OwnPipes& own_;
  const network::Site& site_;
  network::Pipeline& line_;
};

}  // namespace

void read_parts(Reader& reader, const Node& node, const OwnPipes& own, const network::Site& site,
                network::Pipeline& line) {
  const auto* items = list_of(reader, node, "`parts` of pipeline " + document::quote(line.name),
                              "parts: [{ball_valve: V1, at: 3 ft}]");
  if (!items) return;
  Parts parts(reader, own, site, line);
  for (const auto& item : *items) parts.read(*item);
}

}  // namespace runnel::input
