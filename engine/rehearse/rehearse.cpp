#include "rehearse/rehearse.h"

#include <algorithm>
#include <cmath>
#include <optional>
#include <utility>

#include "base/expects.h"

namespace pitwright::rehearse {
namespace {

// Walls are cooled this long before the burn's zero, so that the air has found its way to them.
constexpr double cooled_before_s = 1500;

/// Random streams of one burn; Unrest takes 1.
enum Stream : std::uint64_t { resetting_stream = 2, human_stream = 3, logger_stream = 10 };

const LidOpening* open_lid(const Plan& plan, double t_s) {
  for (const auto& lid : plan.lids) {
    if (t_s >= lid.at_s && t_s < lid.at_s + lid.open_s) return &lid;
  }
  return nullptr;
}

/// The pit, the plan and where we are in it.
class Session {
 public:
  Session(const PitModel& model, const Plan& plan, std::uint64_t seed)
      : model_(model),
        plan_(plan),
        resetting_random_(seed, resetting_stream),
        human_(seed, human_stream),
        unrest_(model, plan, seed),
        pit_(model, &human_) {
    double from_s = plan.lead_s;
    for (const auto& planned : plan.stints) {
      starts_s_.push_back(from_s);
      from_s += planned.dwell_s;
    }
    end_s_ = from_s;
    draw_resettings();
  }

  double end_s() const { return end_s_; }
  const std::vector<double>& starts_s() const { return starts_s_; }
  const std::vector<Shift>& resettings() const { return resettings_; }
  const Burning& pit() const { return pit_; }

  /// Brings the pit to the burn's zero.
  void begin() {
    apply_calm(model_, pit_.inputs());
    pit_.use(setting(0), resettings_[0], unrest_.drift());
    if (plan_.start == Start::cold) {
      pit_.start_cold(0);
      return;
    }
    const double period_s = model_.fire.kind == FireKind::splits ? model_.fire.period_s : 600;
    const double run_s =
        std::max({1800.0, 2 * period_s, cooled_before_s}) + human_.uniform(0, period_s);
    const auto ticks = std::lround(run_s / tick_s);
    pit_.start_soaked(-static_cast<double>(ticks) * tick_s);
    const long cooling =
        plan_.start == Start::short_of_soaked ? -std::lround(cooled_before_s / tick_s) : 0;
    for (long i = -ticks; i < 0; ++i) {
      if (i == cooling) pit_.cool_walls(plan_.soaked_share);
      advance(static_cast<double>(i) * tick_s);
    }
  }

  /// Advances the tick from t_s.
  void advance(double t_s) {
    auto& in = pit_.inputs();
    unrest_.apply(t_s, in);
    std::size_t stint = 0;
    while (stint + 1 < starts_s_.size() && t_s >= starts_s_[stint + 1] - 1e-9) ++stint;
    pit_.use(setting(stint), resettings_[stint], unrest_.drift());
    in.lid = open_lid(plan_, t_s) ? 1 : 0;
    for (const auto& cold : plan_.loads) {
      if (t_s >= cold.at_s && t_s < cold.at_s + tick_s) put_in(cold);
    }
    pit_.tick(t_s);
  }

 private:
  const Setting& setting(std::size_t stint) const {
    const int index = setting_index(model_, plan_.stints[stint].setting);
    return model_.settings[static_cast<std::size_t>(index)];
  }

  /// One draw each time the lever is moved; none between adjacent stints of one setting.
  void draw_resettings() {
    for (std::size_t i = 0; i < plan_.stints.size(); ++i) {
      const bool moved = i == 0 || plan_.stints[i].setting != plan_.stints[i - 1].setting;
      resettings_.push_back(moved ? draw_resetting(model_, resetting_random_) : resettings_.back());
    }
  }

  void put_in(const ColdLoad& cold) {
    auto& in = pit_.inputs();
    in.load_j_k = cold.heat_j_k;
    in.load_w_k = cold.air_w_k;
    in.load_share = cold.spot_share;
    pit_.state()[load] = cold.start_c;
  }

  const PitModel& model_;
  const Plan& plan_;
  numeric::Random resetting_random_, human_;
  Unrest unrest_;
  Burning pit_;
  std::vector<double> starts_s_;
  double end_s_ = 0;
  std::vector<Shift> resettings_;
};

/// The readings of one column on its logger's stamps, in degC (km/h and % as they are).
Readings readings_of(const LoggerRecord& record, std::size_t column, double from_s, double to_s) {
  const auto& thermometer = record.logger.thermometers[column];
  const bool convert = record.logger.scale == Scale::fahrenheit && thermometer.role != Role::wind &&
                       thermometer.role != Role::drive;
  Readings readings;
  for (std::size_t row = 0; row < record.stamp_s.size(); ++row) {
    if (record.true_s[row] < from_s || record.true_s[row] >= to_s) continue;
    const double v = record.cells[column][row];
    readings.seconds.push_back(record.stamp_s[row]);
    readings.values.push_back(convert ? degF(v).celsius() : v);
  }
  return readings;
}

void add_probes(const PitModel& model, const LoggerRecord& record, std::size_t column, Burn& burn) {
  const auto& thermometer = record.logger.thermometers[column];
  constexpr double forever = std::numeric_limits<double>::infinity();
  double from_s = -forever;
  int spot = thermometer.spot;
  for (std::size_t place = 0; place <= thermometer.moves.size(); ++place) {
    const bool last = place == thermometer.moves.size();
    const double to_s = last ? forever : thermometer.moves[place].at_s;
    Probe probe;
    probe.channel = thermometer.channel;
    probe.role = thermometer.role;
    if (thermometer.role == Role::dial) {
      probe.grate = model.sensor.grate;
      probe.x_m = model.sensor.x_m;
      probe.y_m = model.sensor.y_m;
      probe.z_m = model.sensor.z_m;
    } else if (thermometer.role == Role::air) {
      const auto& s = model.spots[static_cast<std::size_t>(spot)];
      probe.spot = s.name;
      probe.grate = s.grate;
      probe.x_m = s.x_m;
      probe.y_m = s.y_m;
      probe.z_m = s.z_m;
    }
    probe.readings = readings_of(record, column, from_s, to_s);
    burn.probes.push_back(std::move(probe));
    if (last) break;
    from_s = to_s;
    spot = thermometer.moves[place].spot;
  }
}

void add_events(const PitModel& model, const Plan& plan, const std::vector<double>& splits_s,
                Burn& burn) {
  for (const auto& lid : plan.lids) {
    if (!lid.marked) continue;
    Event event;
    event.kind = EventKind::lid;
    event.at_s = lid.at_s;
    event.until_s = lid.at_s + lid.open_s;
    burn.events.push_back(event);
  }
  for (const double at_s : splits_s) {
    if (model.fire.kind != FireKind::splits || at_s < 0) continue;
    Event event;
    event.kind = EventKind::split;
    event.at_s = at_s;
    burn.events.push_back(event);
  }
  std::ranges::sort(burn.events, {}, &Event::at_s);
}

std::vector<int> measured_spots(const Kit& kit) {
  std::vector<int> spots;
  for (const auto& logger : kit.loggers) {
    for (const auto& thermometer : logger.thermometers) {
      if (thermometer.role == Role::air) spots.push_back(thermometer.spot);
    }
  }
  std::ranges::sort(spots);
  const auto twice = std::ranges::unique(spots);
  spots.erase(twice.begin(), twice.end());
  return spots;
}

Burn burn_of(const PitModel& model, const Plan& plan, const Session& session,
             const std::vector<LoggerRecord>& logs) {
  Burn burn;
  burn.title = model.pit.name;
  burn.pit = model.pit;
  burn.pit.set_point = degC(model.set_c);
  for (std::size_t i = 0; i < plan.stints.size(); ++i) {
    Stint stint;
    stint.setting = plan.stints[i].setting;
    stint.adjustments =
        model.settings[static_cast<std::size_t>(setting_index(model, stint.setting))].adjustments;
    stint.from_s = session.starts_s()[i];
    stint.to_s = stint.from_s + plan.stints[i].dwell_s;
    burn.stints.push_back(std::move(stint));
  }
  for (const auto& record : logs) {
    for (std::size_t i = 0; i < record.cells.size(); ++i) add_probes(model, record, i, burn);
  }
  add_events(model, plan, session.pit().feeding().splits_s(), burn);
  return burn;
}

}  // namespace

Result<RehearsedBurn> rehearse(const PitModel& model, const Kit& kit, const Plan& plan,
                               std::uint64_t seed, const RehearseOptions& options) {
  const auto sound = check(model, kit, plan);
  if (!sound) return std::unexpected(sound.error());

  Session session(model, plan, seed);
  session.begin();
  std::vector<LoggerAtWork> loggers;
  for (std::size_t i = 0; i < kit.loggers.size(); ++i)
    loggers.emplace_back(model, kit.loggers[i], seed, logger_stream + i);
  for (auto& logger : loggers) logger.tick(session.pit(), 0);
  const auto ticks = std::lround(session.end_s() / tick_s);
  const double used_before_j = session.pit().feeding().used_j();
  for (long i = 0; i < ticks; ++i) {
    session.advance(static_cast<double>(i) * tick_s);
    for (auto& logger : loggers) logger.tick(session.pit(), static_cast<double>(i + 1) * tick_s);
  }

  RehearsedBurn result;
  for (auto& logger : loggers) result.logs.push_back(std::move(logger).finish());
  result.burn = burn_of(model, plan, session, result.logs);
  result.resettings = session.resettings();
  result.fuel_j = session.pit().feeding().used_j() - used_before_j;
  result.empty_at_s = session.pit().feeding().empty_at_s();
  if (options.with_truth) {
    const auto spots = measured_spots(kit);
    result.truth = truth_of(model);
    if (!spots.empty()) result.truth = over_spots(model, result.truth, spots);
  }
  return result;
}

Kit plain_kit(const PitModel& model) {
  Logger logger;
  logger.name = "grate";
  for (std::size_t i = 0; i < model.spots.size(); ++i) {
    Thermometer thermometer;
    thermometer.channel = model.spots[i].name;
    thermometer.spot = static_cast<int>(i);
    logger.thermometers.push_back(thermometer);
  }
  Thermometer dial;
  dial.channel = "dial";
  dial.role = Role::dial;
  dial.lag_s = 0;
  dial.noise_k = 0.05;
  logger.thermometers.push_back(dial);
  return {{logger}};
}

Plan plain_plan(const std::vector<std::string>& settings, double dwell_s) {
  Plan plan;
  for (const auto& name : settings) plan.stints.push_back({name, dwell_s});
  return plan;
}

}  // namespace pitwright::rehearse
