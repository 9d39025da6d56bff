#pragma once
// The sections of a model, one reader each; those of places: place_sections.h. All of them go on after an
// error, and leave in the system whatever could be read, so that names resolve and the rest can still be
// judged.
#include <chrono>
#include <optional>
#include <string>

#include "runnel/document/tree.h"
#include "runnel/input/reader.h"
#include "runnel/network/model.h"
#include "runnel/pipes/catalogue.h"

namespace runnel::input {

class Fields;

/// Pipes that the model itself defines, by name.
using OwnPipes = pipes::Catalogue;

network::Site read_site(Reader& reader, const document::Node* node);
losses::FrictionLaw read_friction(Reader& reader, const document::Node& node);

network::TankShape read_shape(Reader& reader, const document::Node& node, const std::string& of);

/// What a box says of its spring: yield, bucket tests, years.
void read_spring(Reader& reader, Fields& fields, network::Box& box);
/// A date, written 2026-05-02.
std::optional<std::chrono::sys_days> read_date(Reader& reader, const document::Node& node,
                                               const std::string& what);
std::optional<losses::Overflow> read_overflow(Reader& reader, const document::Node& node, const Mark& key,
                                              const std::string& of);

/// `pipes:`, either a file name or pipes by name.
OwnPipes read_own_pipes(Reader& reader, const document::Node& node);
/// `pipe:`, either a name or a pipe described there.
pipes::Pipe read_pipe_choice(Reader& reader, const document::Node& node, const OwnPipes& own,
                             const std::string& what);

/// Whether `pipe:` leaves the choice of pipe open.
bool leaves_open(const document::Node& node);
/// `pipe: {choose: ..., split: ...}`; none if there is nothing to choose from, which has then been reported.
std::optional<network::PipeChoice> read_open_choice(Reader& reader, const document::Node& node,
                                                    const OwnPipes& own, const std::string& what);
/// `prices:`, in the model or in a file.
void read_prices(Reader& reader, const document::Node& node, const OwnPipes& own, network::Model& system);

/// The points of a line, and how their stations count.
struct Survey {
  std::vector<network::SurveyPoint> points;
  network::Along along = network::Along::level;
};
/// `survey:` of a line, in the model or in a file: points, legs or a level book. `start`, for legs, is the
/// elevation where the line begins if its place gives it. `object` (the line) learns where the points are
/// written.
Survey read_survey(Reader& reader, const document::Node& node, const std::string& of, Reader::Object& object,
                   std::optional<Length> start, std::optional<Length> survey_error);
/// `legs:`, lengths of pipe with their rise or fall.
std::vector<network::SurveyPoint> read_legs(Reader& reader, const document::Node& node, const std::string& of,
                                            const std::string& unit, Length start, Reader::Object& object);
/// `level_book:`, sights through a level.
std::vector<network::SurveyPoint> read_level_book(Reader& reader, const document::Node& node, const Mark& key,
                                                  const std::string& of, const std::string& unit,
                                                  Reader::Object& object, std::optional<Length> survey_error);
/// A length, which may be bare if the survey has a unit. None, with a finding, if it cannot be read.
std::optional<Length> read_surveyed(Reader& reader, const document::Node& node, const std::string& unit,
                                    const std::string& what);

class Fields;
/// `draws:` if present; `of` completes "a draw ...".
std::vector<network::Draw> read_draws(Reader& reader, Fields& fields, const std::string& of);
network::FloatValve read_float_valve(Reader& reader, const document::Node& node, const Mark& key,
                                     const std::string& of);

/// The places must have been read before.
void read_pipelines(Reader& reader, const document::Node& node, const OwnPipes& own, network::Model& system);
/// `parts:` of a line whose survey and first pipe have been read.
void read_parts(Reader& reader, const document::Node& node, const OwnPipes& own, const network::Site& site,
                network::Pipeline& line);

void read_settings(Reader& reader, const document::Node& node, network::Model& system);
void read_asks(Reader& reader, const document::Node& node, network::Model& system);
network::Year read_year(Reader& reader, const document::Node& node);
void read_claims(Reader& reader, const document::Node& node, network::Model& system);
/// `collection:`, `log:` and `ground:` refer to boxes and lines by name, and need nothing read before.
void read_collections(Reader& reader, const document::Node& node, network::Model& model);
void read_logs(Reader& reader, const document::Node& node, network::Model& model);
network::Ground read_ground(Reader& reader, const document::Node& node);

/// Calls `read(name, key_mark, value)` for every entry of a section such as `boxes:`.
template <class Read>
void each_named(Reader& reader, const document::Node& node, const Mark& key, const char* section, Read read) {
  if (node.kind != document::Node::Kind::map) {
    const bool empty = node.kind == document::Node::Kind::missing;
    reader.error(
        empty ? "empty-value" : "not-a-block", empty ? key : node.mark,
        std::string("`") + section + (empty ? "` is left empty" : "` must be a block of entries `name: ...`"),
        "give each one a name of its own, and indent what belongs to it below the name");
    return;
  }
  for (const document::Entry& entry : node.entries) read(entry.key, entry.key_mark, *entry.value);
}

}  // namespace runnel::input
