#include "runnel/report/document.h"

#include <iterator>

namespace runnel::report {

Document& Document::section(std::string title) {
  sections_.push_back({std::move(title), {}});
  return *this;
}

Document& Document::add(Block block) {
  sections_.back().blocks.push_back(std::move(block));
  return *this;
}

Document& Document::statement(std::string text, bool good) {
  return add(Prose{.text = std::move(text), .tone = good ? Tone::good : Tone::bad});
}

Document& Document::paragraph(std::string text, int level) {
  return add(Prose{.text = std::move(text), .level = level});
}

Document& Document::line(std::string text, int level) {
  return add(Prose{.manner = Manner::line, .text = std::move(text), .level = level});
}

Document& Document::entry(std::string text) {
  return add(Prose{.manner = Manner::entry, .text = std::move(text)});
}

Document& Document::item(std::string text, int level) {
  return add(Prose{.manner = Manner::item, .text = std::move(text), .level = level});
}

Document& Document::act(int number, std::string text) {
  return add(Prose{.manner = Manner::act, .text = std::move(text), .level = 1, .number = number});
}

Document& Document::append(Document other) {
  std::vector<Section>& more = other.sections_;
  auto& blocks = sections_.back().blocks;
  blocks.insert(blocks.end(), std::make_move_iterator(more.front().blocks.begin()),
                std::make_move_iterator(more.front().blocks.end()));
  sections_.insert(sections_.end(), std::make_move_iterator(more.begin() + 1),
                   std::make_move_iterator(more.end()));
  return *this;
}

const Section* Document::find(const std::string& title) const {
  for (const Section& section : sections_)
    if (section.title == title) return &section;
  return nullptr;
}

}  // namespace runnel::report
