#include "sheet/words_moved.h"

#include <algorithm>

#include <fmt/format.h>

#include "report/text_width.h"

namespace pitwright::sheet {

std::vector<Question> questions_of(const call::Report& report) {
  std::vector<Question> all;
  constexpr auto whole = "The whole chamber", heat = "Where the heat lies",
                 spots = "How each spot runs, against the level";
  all.push_back({"level", whole, &report.level});
  all.push_back({"spread", whole, &report.spread});
  if (report.dial_gap) all.push_back({"dial gap", whole, &*report.dial_gap});
  for (const auto& tilt : report.tilts)
    all.push_back({std::string(name_of(tilt.axis)), heat, &tilt.tilt});
  for (const auto& spot : report.spots) all.push_back({spot.spot, spots, &spot.runs});
  return all;
}

const call::Quantity* same_question(const call::Report& report, const Question& question) {
  for (const auto& other : questions_of(report))
    if (other.name == question.name && other.heading == question.heading) return other.quantity;
  return nullptr;
}

const call::Change* change_named(const call::Report& report, const call::Quantity* quantity,
                                 const std::string& from, const std::string& to) {
  if (quantity == nullptr) return nullptr;
  const auto index = [&](const std::string& name) {
    return static_cast<int>(std::ranges::find(report.settings, name) - report.settings.begin());
  };
  return report::change_between(*quantity, index(from), index(to));
}

std::vector<std::pair<int, int>> pairs_of(const call::Report& report) {
  std::vector<std::pair<int, int>> pairs;
  for (const auto& change : report.level.changes) pairs.emplace_back(change.from, change.to);
  return pairs;
}

std::vector<WordMoved> words_moved(const SheetView& view, const Removal& removal) {
  std::vector<WordMoved> moved;
  if (!removal.report) return moved;
  const auto& settings = view.report.settings;
  for (const auto& question : questions_of(view.report)) {
    const auto* there = same_question(*removal.report, question);
    const bool is_own =
        removal.kind == Removal::Kind::spot && there == nullptr && question.name == removal.spot;
    if (is_own) continue;
    for (const auto& change : question.quantity->changes) {
      if (!change.estimate) continue;
      const auto* other =
          change_named(*removal.report, there, settings[static_cast<std::size_t>(change.from)],
                       settings[static_cast<std::size_t>(change.to)]);
      const bool asked = other != nullptr && other->estimate.has_value();
      if (asked && other->word == change.word) continue;
      moved.push_back({question.name, change.from, change.to, std::string(name_of(change.word)),
                       asked ? std::optional(std::string(name_of(other->word))) : std::nullopt});
    }
  }
  return moved;
}

std::string removal_name(const SheetView& view, const Removal& removal) {
  if (removal.kind == Removal::Kind::spot) return report::clean_name(removal.spot);
  const auto& stint = view.burn.stints[static_cast<std::size_t>(removal.stint)];
  return fmt::format("stint {} ({})", removal.stint + 1, report::clean_name(stint.setting));
}

}  // namespace pitwright::sheet
