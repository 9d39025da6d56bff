#pragma once
// A survey in a text file: a line `station (ft), elevation (ft)` and then a line for each point.
#include <string>
#include <string_view>
#include <vector>

#include "runnel/input/reader.h"
#include "runnel/network/pipeline.h"

namespace runnel::input {

struct CsvPoint {
  network::SurveyPoint point;
  Mark station_mark, elevation_mark;
};

/// Reads the text; `file` is its name, for the marks. Separators: comma, semicolon or tab. Columns are found
/// by their names and may be followed by others. Empty lines and lines that begin with # are skipped. Codes:
/// csv-header, csv-row, and those of values.h.
std::vector<CsvPoint> read_csv(Reader& reader, std::string_view text, const std::string& file);

}  // namespace runnel::input
