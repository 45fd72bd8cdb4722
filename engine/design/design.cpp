#include "design/design.h"

#include <algorithm>
#include <cmath>
#include <set>
#include <utility>

#include "call/tables.h"
#include "design/orders.h"

namespace pitwright::design {
namespace {

constexpr int most_settings = 6;
constexpr double enough_chance = 0.8;
/// A longer stint is taken where a shorter one would be blunter than the best by more than this
/// share.
constexpr double worth = 0.1;
constexpr double longer_step_s = 600.0;
constexpr int longer_steps = 4;

Result<void> check(const Pit& pit, const Wishes& wishes) {
  if (wishes.settings.size() < 2)
    return fail(ErrorKind::bad_input,
                "a plan compares settings: give two or more, such as --settings \"A,B\"");
  if (std::ssize(wishes.settings) > most_settings)
    return fail(ErrorKind::bad_input,
                "{} settings are too many for one burn: ask {} at most, and the "
                "others another day",
                wishes.settings.size(), most_settings);
  std::set<std::string> names;
  for (const auto& name : wishes.settings) {
    if (name.empty()) return fail(ErrorKind::bad_input, "a setting has no name");
    if (!names.insert(name).second)
      return fail(ErrorKind::bad_input,
                  "setting '{}' stands twice: name each once, the plan orders "
                  "and repeats them",
                  name);
  }
  if (wishes.probes < 1)
    return fail(ErrorKind::bad_input, "{} probes measure nothing: give 1 or more", wishes.probes);
  if (wishes.probes > most_probes(pit))
    return fail(ErrorKind::bad_input,
                "{} probes are more than the plan can place on {} grate{}: {} at "
                "most",
                wishes.probes, std::max<std::size_t>(1, pit.grates.size()),
                pit.grates.size() > 1 ? "s" : "", most_probes(pit));
  if (wishes.probes == 1 && wishes.question != Question::level)
    return fail(ErrorKind::bad_input, "one probe shows no {}: give 2 or more, or ask for the level",
                name_of(wishes.question));
  if (!(wishes.matters.kelvins() > 0.0) || !std::isfinite(wishes.matters.kelvins()))
    return fail(ErrorKind::bad_input, "what matters must be more than nothing");
  if (wishes.within_s && !(*wishes.within_s > 0.0))
    return fail(ErrorKind::bad_input, "the hours must be more than none");
  if (wishes.soak_s && !(*wishes.soak_s >= 0.0))
    return fail(ErrorKind::bad_input, "the soak cannot be shorter than nothing");
  return {};
}

/// Makes plans for one set of wishes.
class Planner {
 public:
  Planner(const Pit& pit, const Wishes& wishes, const Habits& habits, const SpotPlan& spots)
      : pit_(pit),
        wishes_(wishes),
        habits_(habits),
        spots_(spots),
        factors_(tilt_factors(spots, spots.rounds.front())) {}

  double soak_s() const { return wishes_.soak_s.value_or(habits_.soak_s); }
  double shortest_s(const std::vector<int>& order) const {
    return soak_s() + shortest_dwell_s(habits_) * static_cast<double>(order.size());
  }

  Plan plan(const std::vector<int>& order) const {
    Plan plan;
    plan.order = order;
    plan.dwell_s = dwell_s(order);
    plan.soak_s = soak_s();
    plan.burn_s = plan.soak_s + plan.dwell_s * static_cast<double>(order.size());
    const Outlook outlook({order, plan.dwell_s}, habits_, matters_k());
    plan.counted_s = outlook.counted_s();
    plan.settling_s = plan.dwell_s - plan.counted_s;
    if (wishes_.fuel) plan.fuel = fuel_need(*wishes_.fuel, pit_.set_point, plan.burn_s / 3600.0);
    plan.level = plan.asked = outlook.resolve(ask(Question::level));
    if (wishes_.probes > 1) plan.run = outlook.resolve(ask(Question::lay));
    for (std::size_t axis = 0; axis < factors_.size(); ++axis)
      if (factors_[axis])
        plan.tilts.push_back({static_cast<call::Axis>(axis), outlook.resolve(ask_tilt(axis))});
    choose_asked(plan);
    return plan;
  }

  bool can_tell_tilts() const {
    return std::ranges::any_of(factors_, [](const auto& f) { return f.has_value(); });
  }

 private:
  double matters_k() const { return wishes_.matters.kelvins(); }

  Ask ask(Question question) const {
    if (question == Question::level)
      return {habits_.level, 1.0, planned_level_priors(habits_), 1, matters_k()};
    const double n = static_cast<double>(spots_.rounds.front().size());
    return {habits_.spot,
            std::sqrt(1.0 - 1.0 / n),
            {call::lay_priors(1.0)},
            static_cast<int>(n),
            matters_k()};
  }

  Ask ask_tilt(std::size_t axis) const {
    const auto& own = habits_.tilt[axis];
    return {own.empty() ? habits_.spot : own,
            *factors_[axis],
            {call::tilt_priors(*factors_[axis])},
            1,
            matters_k()};
  }

  Ask asked() const {
    if (wishes_.question != Question::tilt) return ask(wishes_.question);
    std::size_t bluntest = 0;
    for (std::size_t axis = 0; axis < factors_.size(); ++axis)
      if (factors_[axis].value_or(0.0) > factors_[bluntest].value_or(0.0)) bluntest = axis;
    return ask_tilt(bluntest);
  }

  /// The shortest stint that is nearly as sharp as the sharpest that there is time for.
  double dwell_s(const std::vector<int>& order) const {
    const double least = shortest_dwell_s(habits_);
    double most = least + longer_steps * longer_step_s;
    if (wishes_.within_s)
      most = std::min(most, (*wishes_.within_s - soak_s()) / static_cast<double>(order.size()));
    std::vector<std::pair<double, double>> tried;
    double best = HUGE_VAL;
    for (double dwell = least; dwell <= most + 1.0; dwell += longer_step_s) {
      tried.emplace_back(dwell, Outlook({order, dwell}, habits_, matters_k()).quick_sd_k(asked()));
      best = std::min(best, tried.back().second);
    }
    for (const auto& [dwell, sd] : tried)
      if (sd <= (1.0 + worth) * best) return dwell;
    return least;
  }

  void choose_asked(Plan& plan) const {
    if (wishes_.question == Question::lay) plan.asked = *plan.run;
    if (wishes_.question == Question::tilt)
      plan.asked = std::ranges::max_element(plan.tilts, {}, [](const TiltResolution& t) {
                     return t.resolution.half_width_k;
                   })->resolution;
    const auto& chances = plan.asked.chances;
    plan.settles = chances[0].no_odds >= enough_chance && chances[2].clear >= enough_chance;
  }

  const Pit& pit_;
  const Wishes& wishes_;
  const Habits& habits_;
  const SpotPlan& spots_;
  std::array<std::optional<double>, 3> factors_;
};

int recommended(const std::vector<Plan>& plans) {
  int best = 0;
  double most = -1.0;
  for (int i = 0; i < std::ssize(plans); ++i) {
    const auto& plan = plans[static_cast<std::size_t>(i)];
    if (plan.settles) return i;
    const double chance = std::min(plan.asked.chances[0].no_odds, plan.asked.chances[2].clear);
    if (chance > most) {
      most = chance;
      best = i;
    }
  }
  return best;
}

}  // namespace

std::string_view name_of(Question question) {
  switch (question) {
    case Question::level:
      return "level";
    case Question::lay:
      return "lay";
    case Question::tilt:
      return "tilt";
  }
  std::unreachable();
}

Result<Design> make_design(const Pit& pit, const Wishes& wishes, Habits habits) {
  if (const auto good = check(pit, wishes); !good) return std::unexpected(good.error());
  Design design{std::move(habits), {}, {}, 0, 0};
  design.spots = choose_spots(pit, design.habits, wishes.probes);
  const Planner planner(pit, wishes, design.habits, design.spots);
  if (wishes.question == Question::tilt && !planner.can_tell_tilts())
    return fail(ErrorKind::bad_input, "no tilt can be told with so few spots: give more probes");
  const auto orders = counterbalanced_orders(static_cast<int>(wishes.settings.size()));
  for (const auto& order : orders) {
    if (wishes.within_s && planner.shortest_s(order) > *wishes.within_s) {
      ++design.left_out;
      continue;
    }
    design.plans.push_back(planner.plan(order));
  }
  if (design.plans.empty())
    return fail(
        ErrorKind::bad_input,
        "nothing fits into {:.1f} h: the shortest plan takes {:.1f} h from lighting, {:.1f} h "
        "of it soak; give it more time, or ask fewer settings",
        *wishes.within_s / 3600.0, planner.shortest_s(orders.front()) / 3600.0,
        planner.soak_s() / 3600.0);
  design.recommended = recommended(design.plans);
  return design;
}

}  // namespace pitwright::design
