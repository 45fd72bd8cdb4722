#include "sheet/sections.h"

#include <algorithm>

#include <fmt/format.h>
#include <fmt/ranges.h>

#include "report/call_words.h"
#include "report/degrees.h"
#include "report/sentence.h"
#include "report/text_width.h"
#include "report/trouble_words.h"
#include "sheet/words_moved.h"

namespace pitwright::sheet {
namespace {

using call::Word;

std::string pair_text(const SheetView& view, int from, int to) {
  return report::setting_name(view.call(), from) + " → " + report::setting_name(view.call(), to);
}

/// "level, dial gap and 3 spots"; spots are counted where they are many.
std::string names_text(const std::vector<std::string>& questions,
                       const std::vector<std::string>& spots) {
  constexpr std::size_t named = 4;
  auto all = questions;
  if (spots.size() > named)
    all.push_back(fmt::format("{} spots", spots.size()));
  else
    all.insert(all.end(), spots.begin(), spots.end());
  return fmt::format("{}", fmt::join(all, ", "));
}

/// Open questions of a pair that need equally many stints.
struct OpenGroup {
  std::optional<int> needs;
  std::vector<std::string> questions, spots;
};

std::vector<OpenGroup> open_groups(const SheetView& view, int from, int to) {
  std::vector<OpenGroup> groups;
  const auto all = questions_of(view.report);
  for (const auto& question : all) {
    const auto* change = report::change_between(*question.quantity, from, to);
    if (change == nullptr || !change->estimate) continue;
    if (change->word != Word::not_yet && change->word != Word::too_close) continue;
    auto group = std::ranges::find(groups, change->needs_stints, &OpenGroup::needs);
    if (group == groups.end()) group = groups.insert(groups.end(), {change->needs_stints, {}, {}});
    const bool is_spot = question.heading == all.back().heading && !view.report.spots.empty();
    (is_spot ? group->spots : group->questions).push_back(report::clean_name(question.name));
  }
  std::ranges::stable_sort(groups, {}, [](const auto& g) { return g.needs.value_or(1000); });
  return groups;
}

std::string stints_more(const std::optional<int>& needs) {
  if (!needs) return "even 12 more stints would probably not settle it";
  return fmt::format("{} more stint{} would probably settle it", *needs, *needs == 1 ? "" : "s");
}

bool is_settled(Word word) {
  return word == Word::clear || word == Word::no_odds;
}

/// One word of the whole burn against every removal.
struct Trial {
  std::string question;
  int from = 0, to = 0;
  Word word = Word::not_yet;
  std::vector<std::string> otherwise;  ///< removals that leave another word, or none
  std::vector<std::string> settles;    ///< removals that make an open word clear or no odds
};

std::vector<Trial> trials_of(const SheetView& view) {
  std::vector<Trial> all;
  const auto& settings = view.report.settings;
  for (const auto& question : questions_of(view.report))
    for (const auto& change : question.quantity->changes) {
      if (!change.estimate) continue;
      Trial trial{report::clean_name(question.name), change.from, change.to, change.word, {}, {}};
      for (const auto& removal : view.removals) {
        const bool own = removal.kind == Removal::Kind::spot && question.name == removal.spot;
        if (own) continue;
        const auto* other =
            removal.report ? change_named(*removal.report, same_question(*removal.report, question),
                                          settings[static_cast<std::size_t>(change.from)],
                                          settings[static_cast<std::size_t>(change.to)])
                           : nullptr;
        const bool asked = other != nullptr && other->estimate.has_value();
        if (asked && other->word == change.word) continue;
        trial.otherwise.push_back(removal_name(view, removal));
        const bool open = change.word == Word::not_yet || change.word == Word::too_close;
        if (asked && open && is_settled(other->word))
          trial.settles.push_back(trial.otherwise.back());
      }
      all.push_back(std::move(trial));
    }
  return all;
}

/// "left-right", with the pair where the burn has several.
std::string trial_name(const SheetView& view, const Trial& trial) {
  if (pairs_of(view.report).size() < 2) return trial.question;
  return trial.question + " " + pair_text(view, trial.from, trial.to);
}

/// "L1, L2 or stint 3 (B)".
std::string or_list(std::vector<std::string> names) {
  if (names.size() < 2) return fmt::format("{}", fmt::join(names, ""));
  const auto last = names.back();
  names.pop_back();
  return fmt::format("{} or {}", fmt::join(names, ", "), last);
}

}  // namespace

std::vector<WordMeaning> word_meanings(const SheetView& view) {
  const auto m = report::size_text(view.burn.matters.kelvins(), view.scale);
  return {
      {"clear", fmt::format("a change bigger than the {} that matters, this way round", m)},
      {"no odds", fmt::format("no change as big as {}, either way", m)},
      {"too close", fmt::format("there is a change; whether it reaches {} is open", m)},
      {"not yet", "not enough stints to say whether there is a change that matters"},
      {"muddled", "something spoiled this one question; under trouble stands what"},
  };
}

std::vector<std::string> trouble_list(const SheetView& view) {
  std::vector<std::string> all;
  for (const auto& trouble : view.report.troubles)
    all.push_back(report::trouble_text(trouble, view.burn, view.scale));
  return all;
}

std::vector<std::string> open_questions(const SheetView& view) {
  std::vector<std::string> all;
  for (const auto& [from, to] : pairs_of(view.report))
    for (const auto& group : open_groups(view, from, to))
      all.push_back(fmt::format("{}: {} open; {}.", pair_text(view, from, to),
                                names_text(group.questions, group.spots),
                                stints_more(group.needs)));
  if (all.empty() && !pairs_of(view.report).empty())
    all.emplace_back("No question is open: every change is clear, no odds or muddled.");
  return all;
}

std::vector<std::string> moved_texts(const SheetView& view, const Removal& removal) {
  std::vector<std::string> all;
  for (const auto& moved : words_moved(view, removal))
    all.push_back(fmt::format("{}, {}: {} becomes {}", report::clean_name(moved.question),
                              pair_text(view, moved.from, moved.to), moved.was,
                              moved.is.value_or("a question that cannot be asked")));
  return all;
}

std::vector<std::string> removal_findings(const SheetView& view) {
  if (view.removals.empty()) return {"Nothing was left out to try it."};
  std::vector<std::string> firm, falling, settling;
  for (const auto& trial : trials_of(view)) {
    const auto name = trial_name(view, trial);
    if (trial.otherwise.empty()) {
      if (is_settled(trial.word)) firm.push_back(fmt::format("{} {}", name, name_of(trial.word)));
    } else if (is_settled(trial.word)) {
      falling.push_back(fmt::format("{} is {}, but not without {}.", name, name_of(trial.word),
                                    or_list(trial.otherwise)));
    }
    if (!trial.settles.empty())
      settling.push_back(fmt::format("{} without {}", name, or_list(trial.settles)));
  }
  std::vector<std::string> all;
  if (!firm.empty())
    all.push_back(
        fmt::format("Stands, whichever one spot or stint is left out: {}.", fmt::join(firm, "; ")));
  else if (falling.empty())
    all.emplace_back("Nothing is clear or no odds, so there is no word to lose.");
  else
    all.emplace_back("Every settled word falls when some one spot or stint is left out.");
  all.insert(all.end(), falling.begin(), falling.end());
  if (!settling.empty())
    all.push_back(
        fmt::format("Open, and would look settled with less: {}. Fewer readings prove less, not "
                    "more.",
                    fmt::join(settling, "; ")));
  return all;
}

std::vector<std::string> limits_of(const SheetView& view) {
  std::vector<std::string> all;
  const bool empty_pit = view.burn.pieces.empty();
  all.push_back(fmt::format(
      "One fire on one day, at this heat and in this weather{}. Another day, another load or a "
      "much hotter fire may differ.",
      empty_pit ? ", with no food recorded" : ""));
  all.emplace_back(
      "Air at the thermometers only: heat that shines from metal or flame is not in these "
      "numbers.");
  return all;
}

std::vector<std::string> cautions() {
  return {
      "This sheet is about air in a cooker. It shows nothing about any food; for that, measure in "
      "the food and follow the rules of your place.",
      "Live fire burns, and smoke holds carbon monoxide: cook outdoors or with proper draft, keep "
      "clear of what can burn, follow the cooker's instructions and local code, and leave gas, "
      "electrical and structural work to licensed people."};
}

}  // namespace pitwright::sheet
