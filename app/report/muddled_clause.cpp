#include <algorithm>
#include <map>
#include <ranges>
#include <set>
#include <string>
#include <utility>
#include <vector>

#include <fmt/format.h>

#include "report/clauses.h"
#include "report/text_width.h"
#include "report/trouble_words.h"

namespace pitwright::report {
namespace {

using call::Word;
using Causes = std::set<call::TroubleIndex>;

/// Troubles behind these changes, in the order of the list, each once.
Causes causes_of(const CallView& view, const Changes& changes) {
  Causes causes;
  for (const auto* change : changes) {
    if (change->word != Word::muddled) continue;
    for (const auto index : change->because) {
      if (index >= 0 && index < std::ssize(view.report.troubles)) causes.insert(index);
    }
  }
  return causes;
}

/// A question by its name in the sentence, with its changes.
struct Question {
  std::string name;
  Changes changes;
};

/// Where the heat lies, as far as it is muddled: as a whole, or the spots where the tilts stand.
std::vector<Question> muddled_lay(const CallView& view, const std::vector<int>& settings) {
  Changes tilts;
  for (const auto& tilt : view.report.tilts) {
    tilts = joined(std::move(tilts), changes_among(tilt.tilt, settings));
  }
  Changes runs;
  std::vector<std::string> spots;
  for (const auto& spot : view.report.spots) {
    const auto changes = changes_among(spot.runs, settings);
    if (any_is(changes, Word::muddled)) spots.push_back(clean_name(spot.spot));
    runs = joined(std::move(runs), changes);
  }
  const bool all_spots = !spots.empty() && spots.size() == view.report.spots.size();
  if (any_is(tilts, Word::muddled) || all_spots) {
    return {{"where the heat lies", joined(tilts, runs)}};
  }
  if (spots.empty()) return {};
  constexpr std::size_t named = 2;
  if (spots.size() > named) return {{fmt::format("how {} of the spots run", spots.size()), runs}};
  return {{"how " + spots.front() + (spots.size() == 2 ? " and " + spots.back() + " run" : " runs"),
           runs}};
}

std::vector<Question> muddled_questions(const CallView& view, const std::vector<int>& settings) {
  auto found = muddled_lay(view, settings);
  const auto add = [&](const std::string& name, const call::Quantity& quantity) {
    const auto changes = changes_among(quantity, settings);
    if (any_is(changes, Word::muddled)) found.push_back({name, changes});
  };
  add("the spread", view.report.spread);
  add("the level", view.report.level);
  if (view.report.dial_gap) add("the dial gap", *view.report.dial_gap);
  return found;
}

/// Questions spoiled by the same troubles become one.
std::vector<Question> grouped(const CallView& view, std::vector<Question> questions) {
  std::vector<Question> groups;
  for (auto& question : questions) {
    const auto same = std::ranges::find_if(groups, [&](const Question& group) {
      return causes_of(view, group.changes) == causes_of(view, question.changes);
    });
    if (same == groups.end()) {
      groups.push_back(std::move(question));
      continue;
    }
    same->name += ", " + question.name;
    same->changes = joined(std::move(same->changes), question.changes);
  }
  for (auto& group : groups) {
    const auto comma = group.name.rfind(", ");
    const bool several = comma != std::string::npos;
    if (several) group.name.replace(comma, 2, " and ");
    group.name += several ? " are" : " is";
  }
  return groups;
}

/// Troubles of one sort as one reason. Pre: not empty.
std::string common_reason(const CallView& view, const std::vector<const call::Trouble*>& sort) {
  const auto count = sort.size();
  if (count > 1 && sort.front()->code == call::TroubleCode::still_warming) {
    return fmt::format("the pit was still heating in {} stints", count);
  }
  const auto first = trouble_reason(*sort.front(), view.burn, view.scale);
  return count == 1 ? first : fmt::format("{} (and {} more of the kind)", first, count - 1);
}

}  // namespace

std::string spoiled_text(const CallView& view, const std::string& head, const Changes& changes) {
  std::map<call::TroubleCode, std::vector<const call::Trouble*>> sorts;
  std::vector<call::TroubleCode> order;  // of first appearance in the list
  for (const auto index : causes_of(view, changes)) {
    const auto& trouble = view.report.troubles[static_cast<std::size_t>(index)];
    auto& sort = sorts[trouble.code];
    if (sort.empty()) order.push_back(trouble.code);
    sort.push_back(&trouble);
  }
  std::string reasons, mends;
  constexpr std::size_t told = 2;
  for (const auto code : order | std::views::take(told)) {
    const auto& sort = sorts[code];
    const auto mend = as_sentence(trouble_mend(*sort.front()));
    reasons += (reasons.empty() ? "" : "; ") + common_reason(view, sort);
    if (!mend.empty() && mends.find(mend) == std::string::npos) mends += " " + mend;
  }
  if (reasons.empty()) return as_sentence(head);
  return as_sentence(head + ": " + reasons) + mends;
}

std::string muddled_clause(const CallView& view, const std::vector<int>& settings) {
  std::string text;
  for (const auto& group : grouped(view, muddled_questions(view, settings))) {
    text += (text.empty() ? "" : " ") + spoiled_text(view, group.name + " muddled", group.changes);
  }
  return text;
}

}  // namespace pitwright::report
