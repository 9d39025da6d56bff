// `pipelines:`.
#include <cmath>

#include "runnel/document/quote.h"
#include "runnel/input/fields.h"
#include "runnel/input/sections.h"
#include "runnel/network/name_index.h"

namespace runnel::input {

namespace {

using document::Node;
using network::Pipeline;
using network::PlaceView;

class Lines {
 public:
  Lines(Reader& reader, const OwnPipes& own, network::Model& system)
      : reader_(reader), own_(own), system_(system), places_(system) {}

  void read(const std::string& name, const Mark& mark, const Node& node) {
    Reader::Object object(reader_, mark, &node);
    Pipeline line;
    line.name = name;
    line.mark = mark;
    Fields fields(reader_, node, mark, "pipeline " + document::quote(name));
    line.from = fields.need_text("from", "from: upper box").value_or("");
    line.to = fields.need_text("to", "to: barn tank").value_or("");
    line.survey_error = fields.find_quantity<Length>("survey_error");
    read_course(fields, line, object);
    if (const Node* pipe = fields.need("pipe", "pipe: PE4710 DR11 1-1/2 in"))
      read_first_pipe(*pipe, fields, line);
    line.air = read_air(fields);
    line.mouth = read_mouth(fields);
    line.taped_length = fields.find_quantity<Length>("taped_length");
    read_end_losses(fields, line);
    if (const Node* valve = fields.find("float_valve"))
      line.float_valve = read_float_valve(reader_, *valve, fields.key_mark("float_valve"), fields.what());
    if (const Node* parts = fields.find("parts")) read_parts(reader_, *parts, own_, system_.site, line);
    fields.close();
    system_.pipelines.push_back(std::move(line));
  }

 private:
  /// False if there is no such place or its elevations could not be read.
  bool whole(const PlaceView* place) const { return place && reader_.whole(*place->mark); }

  /// Where water leaves the place at which a line starts, if that could be read.
  std::optional<Length> leaves(const std::string& from) const {
    const PlaceView* start = places_.place(from);
    if (!whole(start)) return std::nullopt;
    return Length::metres(start->leaving.low_m);
  }

  /// The survey, or a length taken as straight.
  void read_course(Fields& fields, Pipeline& line, Reader::Object& object) {
    const Node* survey = fields.find("survey");
    const auto length = fields.find_quantity<Length>("length");
    const auto from = fields.find_quantity<Length>("from_elevation");
    const auto to = fields.find_quantity<Length>("to_elevation");
    if (survey) {
      for (const char* key : {"length", "from_elevation", "to_elevation"}) {
        if (!fields.has(key)) continue;
        Finding& finding =
            reader_.error("said-twice", fields.key_mark(key),
                          fields.what() + " has a survey, which already says its `" + key + "`",
                          "leave one of the two out");
        finding.other = fields.key_mark("survey");
        finding.other_note = "the survey";
      }
      Survey read =
          read_survey(reader_, *survey, fields.what(), object, leaves(line.from), line.survey_error);
      line.survey = std::move(read.points);
      line.along = read.along;
      return;
    }
    line.surveyed = false;
    if (!fields.usable()) return;
    if (!fields.has("length")) {
      if (!fields.has("lenght") && !fields.has("surveys"))
        reader_.error("missing-key", fields.owner(), fields.what() + " has neither a survey nor a length",
                      "add `survey:` with points along the line, or `length: 380 m`");
      return;
    }
    if (length) lay_straight(fields, line, *length, from, to);
  }

  void lay_straight(const Fields& fields, Pipeline& line, Length length, std::optional<Length> from,
                    std::optional<Length> to) {
    const PlaceView* start = places_.place(line.from);
    const PlaceView* stop = places_.place(line.to);
    // Without both places there are no elevations; a missing place is reported elsewhere.
    if ((!from && !whole(start)) || (!to && !whole(stop))) return reader_.spoil();
    const Length z0 = from ? *from : Length::metres(start->leaving.low_m);
    const Length z1 = to ? *to : Length::metres(stop->entering.high_m);
    if (!(length > Length{})) {
      reader_.error("not-positive", fields.mark("length"),
                    fields.label("length") + " must be more than zero");
      return;
    }
    const double fall_m = std::abs((z0 - z1).metres());
    if (!(fall_m < length.metres())) {
      Finding& finding = reader_.error(
          "shorter-than-fall", fields.mark("length"),
          fields.what() + " is {0} long, but its ends differ by {1} in elevation: it cannot reach",
          "check the length, and the elevations of " + document::quote(line.from) + " and " +
              document::quote(line.to));
      finding.figures = {{Kind::length, length.metres()}, {Kind::head, fall_m}};
      return;
    }
    const double plan_m = std::sqrt(length.metres() - fall_m) * std::sqrt(length.metres() + fall_m);
    line.survey = {{Length{}, z0}, {Length::metres(plan_m), z1}};
  }

  void read_first_pipe(const Node& node, const Fields& fields, Pipeline& line) {
    const Reader::Object object(reader_, node.mark, &node);
    network::LaidPipe laid;
    laid.mark = node.mark;
    if (leaves_open(node)) {
      line.choice = read_open_choice(reader_, node, own_, fields.label("pipe"));
      if (line.choice) laid.pipe = line.choice->among.front();
    } else {
      laid.pipe = read_pipe_choice(reader_, node, own_, "the pipe of " + line.name);
    }
    if (!line.survey.empty()) laid.from = line.survey.front().station;
    line.pipes.push_back(std::move(laid));
  }

  network::Air read_air(Fields& fields) {
    const auto text = fields.find_text("air");
    if (!text || *text == "open") return network::Air::open;
    if (*text == "sealed") return network::Air::sealed;
    const std::string near = reader_.suggest(*text, {"open", "sealed"});
    reader_.error("unknown-word", fields.mark("air"), fields.label("air") + " is " + document::quote(*text),
                  near.empty() ? "write `open` (air can get into the pipe) or `sealed`" : near);
    return network::Air::open;
  }

  losses::MouthEdge read_mouth(Fields& fields) {
    const auto text = fields.find_text("mouth");
    if (!text) return losses::MouthEdge::square_in_wall;
    if (const auto edge = losses::find_mouth(*text)) return *edge;
    const std::vector<std::string> words = losses::mouth_words();
    std::string hint = reader_.suggest(*text, words);
    if (hint.empty()) hint = "write one of " + joined(words);
    reader_.error("unknown-word", fields.mark("mouth"),
                  fields.label("mouth") + " is " + document::quote(*text), hint);
    return losses::MouthEdge::square_in_wall;
  }

  static std::string joined(const std::vector<std::string>& words) {
    std::string all;
    for (const std::string& word : words) all += (all.empty() ? "" : ", ") + word;
    return all;
  }

  /// Sharp entrance 0.5 and exit 1.0 [minor-loss-9.2] [water-supply-6-4], see losses/fittings.h.
  void read_end_losses(Fields& fields, Pipeline& line) {
    const PlaceView* start = places_.place(line.from);
    const PlaceView* stop = places_.place(line.to);
    line.entrance_loss = fields.find_number("entrance_loss").value_or(start && start->open_water ? 0.5 : 0.0);
    const bool jet = stop && stop->takes_exit_loss;
    line.exit_loss = fields.find_number("exit_loss").value_or(jet ? 1.0 : 0.0);
    if (jet && stop->kind == network::PlaceKind::outlet && line.exit_loss < 1.0) refuse_jet(fields, line);
  }

  /// With less than 1.0, water would come out under a head that cannot drive it.
  void refuse_jet(const Fields& fields, const Pipeline& line) {
    Finding& finding = reader_.error("exit-below-jet", fields.mark("exit_loss"),
                                     fields.label("exit_loss") + " is {0}, but " + document::quote(line.to) +
                                         " is a free end: the jet itself takes 1.0 along",
                                     "leave `exit_loss` out, or give 1.0 and what the end costs besides");
    finding.figures = {{Kind::number, line.exit_loss}};
  }

  Reader& reader_;
  const OwnPipes& own_;
  network::Model& system_;
  network::NameIndex places_;  ///< made when all places have been read
};

}  // namespace

void read_pipelines(Reader& reader, const Node& node, const OwnPipes& own, network::Model& system) {
  Lines lines(reader, own, system);
  each_named(
      reader, node, node.mark, "pipelines",
      [&](const std::string& name, const Mark& mark, const Node& value) { lines.read(name, mark, value); });
}

}  // namespace runnel::input
