#include "runnel/network/part_loss.h"

namespace runnel::network {

const LaidPipe& pipe_at(const Pipeline& line, Length station) {
  const LaidPipe* at = &line.pipes.front();
  for (const LaidPipe& laid : line.pipes)
    if (laid.from <= station) at = &laid;
  return *at;
}

std::optional<losses::PublishedLoss> published_loss_of(const Pipeline& line, const Part& part, double open) {
  if (line.pipes.empty()) return std::nullopt;
  const Length bore = pipe_at(line, part.at).pipe.bore;
  if (bore <= Length{}) return std::nullopt;
  auto loss = losses::published_loss(part.type, bore.metres(), open);
  if (!loss) return std::nullopt;
  loss->k *= part.count;
  loss->low *= part.count;
  loss->high *= part.count;
  return loss;
}

}  // namespace runnel::network
