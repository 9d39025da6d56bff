// `pipe: {choose: ...}`: the pipes that `runnel size` may choose from; and `prices:`.
#include <algorithm>
#include <cctype>

#include "runnel/document/quote.h"
#include "runnel/input/fields.h"
#include "runnel/input/sections.h"
#include "runnel/network/part_table.h"
#include "runnel/pipes/name_key.h"
#include "runnel/units/number_text.h"
#include "runnel/units/unit_names.h"

namespace runnel::input {

namespace {

using document::Node;
using network::PipeChoice;
using network::Price;

constexpr int most_sizes = 8;

std::string plain(std::string_view text) {
  std::string out;
  for (const char c : text) out += static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
  return out;
}

std::vector<std::string> words_of(const std::string& text) {
  std::vector<std::string> words(1);
  for (const char c : plain(text)) {
    if (c != ' ')
      words.back() += c;
    else if (!words.back().empty())
      words.emplace_back();
  }
  if (words.back().empty()) words.pop_back();
  return words;
}

/// Whole words only: `25 mm` is not `125 mm`.
bool holds(const std::vector<std::string>& name, const std::vector<std::string>& words) {
  return std::all_of(words.begin(), words.end(), [&](const std::string& word) {
    return std::find(name.begin(), name.end(), word) != name.end();
  });
}

/// Every pipe whose name has all the words, the model's own first.
std::vector<pipes::Pipe> pipes_with(const std::string& text, const OwnPipes& own) {
  std::vector<pipes::Pipe> found;
  for (const pipes::Catalogue* catalogue : {&own, &pipes::standard_catalogue()})
    for (const pipes::Pipe& pipe : catalogue->pipes())
      if (holds(words_of(pipe.name), words_of(text))) found.push_back(pipe);
  return found;
}

std::vector<pipes::Pipe> read_among(Reader& reader, const Node& node, const OwnPipes& own,
                                    const std::string& what) {
  std::vector<pipes::Pipe> among;
  if (node.kind == Node::Kind::sequence) {
    for (const auto& item : node.items) {
      pipes::Pipe pipe = read_pipe_choice(reader, *item, own, what);
      if (!pipe.name.empty()) among.push_back(std::move(pipe));
    }
    return among;
  }
  const auto text = read_text(reader, node, what);
  if (!text) return among;
  among = pipes_with(*text, own);
  if (among.empty())
    reader.error(
        "no-such-pipe", node.mark, "no pipe has all the words of " + document::quote(*text),
        "`runnel pipes` lists those known; or write a list of names: [PE100 SDR11 25 mm, PE100 SDR11 "
        "32 mm]");
  return among;
}

struct Rate {
  double amount = 0.0;
  bool per_metre = false;
};

/// `0.90 per m`, `12 per ft`, `40 each`.
std::optional<Rate> rate_of(std::string text) {
  text.erase(0, std::min(text.find_first_not_of(' '), text.size()));
  const units::NumberText number = units::read_number(text, 0);
  if (number.none || !number.error.empty() || number.negative) return std::nullopt;
  const auto words = words_of(text.substr(static_cast<std::size_t>(number.end)));
  if (words.empty() || (words.size() == 1 && words[0] == "each")) return Rate{number.plain, false};
  if (words.size() != 2 || words[0] != "per") return std::nullopt;
  if (words[1] == "piece") return Rate{number.plain, false};
  const auto unit = units::find_unit(words[1]);
  if (!unit || unit->measure != units::Measure::length) return std::nullopt;
  return Rate{number.plain / unit->factor().high, true};
}

// What a parts list has besides the parts of a model (sizing/parts_list.h).
constexpr const char* bought_besides[] = {"reducer", "float_valve", "throttle"};

/// The things that prices may be given for.
struct Priced {
  const OwnPipes& own;
  const network::Model& model;

  bool pipe(const std::string& name) const {
    if (own.find(name) || pipes::standard_catalogue().find(name)) return true;
    const std::string key = pipes::name_key(name);
    for (const network::Pipeline& line : model.pipelines)
      for (const network::LaidPipe& laid : line.pipes)
        if (pipes::name_key(laid.pipe.name) == key) return true;
    return false;
  }
  bool part(const std::string& word) const {
    const auto& words = network::part_words();
    return std::find(words.begin(), words.end(), word) != words.end() ||
           std::find(std::begin(bought_besides), std::end(bought_besides), word) != std::end(bought_besides);
  }
  std::vector<std::string> names() const {
    std::vector<std::string> all = pipes::standard_catalogue().names();
    for (const std::string& mine : own.names()) all.push_back(mine);
    all.insert(all.end(), network::part_words().begin(), network::part_words().end());
    return all;
  }
};

void add_price(Reader& reader, const std::string& of, const Mark& mark, const std::string& text,
               const Mark& text_mark, const Priced& priced, network::Model& model) {
  const bool pipe = priced.pipe(of);
  if (!pipe && !priced.part(of)) {
    const std::string near = reader.suggests() ? reader.suggest(of, priced.names()) : std::string();
    reader.error(
        "price-of-nothing", mark, "no pipe and no part is named " + document::quote(of),
        near.empty() ? "`runnel pipes` lists the pipes; parts go by their words, as `ball_valve`" : near);
    return;
  }
  const auto rate = rate_of(text);
  if (!rate) {
    reader.error("not-a-price", text_mark, document::quote(text) + " is no price",
                 "write an amount and what it is for: 0.90 per m, 0.28 per ft, 12 each");
    return;
  }
  if (pipe && !rate->per_metre) {
    reader.error("not-a-price", text_mark,
                 document::quote(text) + " does not say for what length of pipe it is",
                 "write it by the length: 0.90 per m, 0.28 per ft");
    return;
  }
  model.prices.push_back({of, rate->amount, rate->per_metre, mark});
}

/// Lines of `name, price, unit`; the first may be a heading.
void read_price_file(Reader& reader, const Node& node, const Priced& priced, network::Model& model) {
  const auto text = reader.side_file(node.text);
  if (!text) {
    reader.error("no-such-file", node.mark,
                 "the file of prices " + document::quote(node.text) + " cannot be read",
                 "a file name counts from the folder of the model");
    return;
  }
  int line = 0;
  for (std::size_t start = 0; start < text->size();) {
    const std::size_t end = std::min(text->find('\n', start), text->size());
    std::string row = text->substr(start, end - start);
    start = end + 1;
    ++line;
    if (!row.empty() && row.back() == '\r') row.pop_back();
    if (row.empty() || row[0] == '#') continue;
    const std::size_t last = row.rfind(','),
                      first = last == std::string::npos ? last : row.rfind(',', last - 1);
    const Mark mark{node.text, line, 1, static_cast<int>(row.size())};
    if (first == std::string::npos) {
      reader.error("not-a-price", mark, "a line of prices has a name, a price and a unit",
                   "for example: PE100 SDR11 25 mm, 0.90, per m");
      continue;
    }
    const std::string name = row.substr(0, first);
    if (line == 1 && plain(name) == "name") continue;
    add_price(reader, name, mark, row.substr(first + 1, last - first - 1) + row.substr(last + 1), mark,
              priced, model);
  }
}

}  // namespace

bool leaves_open(const Node& node) {
  return node.kind == Node::Kind::map && (node.find("choose") != nullptr || node.find("split") != nullptr);
}

std::optional<PipeChoice> read_open_choice(Reader& reader, const Node& node, const OwnPipes& own,
                                           const std::string& what) {
  Fields fields(reader, node, node.mark, what);
  PipeChoice choice;
  choice.mark = node.mark;
  if (const Node* among = fields.need("choose", "choose: pe100 sdr11"))
    choice.among = read_among(reader, *among, own, fields.label("choose"));
  if (const auto sizes = fields.find_number("split")) {
    choice.sizes = static_cast<int>(*sizes);
    if (choice.sizes != *sizes || choice.sizes < 1 || choice.sizes > most_sizes)
      reader.error("bad-split", fields.mark("split"), "`split` is how many sizes the line may have, 1 to 8",
                   "write `split: 2` for a line that may change size once");
  }
  fields.close();
  if (choice.among.empty()) {
    reader.spoil();
    return std::nullopt;
  }
  return choice;
}

void read_prices(Reader& reader, const Node& node, const OwnPipes& own, network::Model& model) {
  const Priced priced{own, model};
  if (node.kind == Node::Kind::scalar) return read_price_file(reader, node, priced, model);
  each_named(reader, node, node.mark, "prices",
             [&](const std::string& name, const Mark& mark, const Node& value) {
               if (const auto text = read_text(reader, value, "the price of " + document::quote(name)))
                 add_price(reader, name, mark, *text, value.mark, priced, model);
             });
}

}  // namespace runnel::input
