#pragma once

#include <optional>
#include <string>
#include <vector>

#include "base/result.h"
#include "call/report.h"
#include "design/fuel.h"
#include "design/resolve.h"
#include "design/spots.h"

namespace pitwright::design {

/// What the burn is lit for.
enum class Question {
  level,  ///< did the chamber get hotter?
  lay,    ///< did heat move: does a spot run differently?
  tilt    ///< did heat move along an axis?
};

std::string_view name_of(Question question);

/// What a person asks of a plan.
struct Wishes {
  std::vector<std::string> settings = {"A", "B"};
  int probes = 6;
  Question question = Question::lay;
  TemperatureDelta matters = TemperatureDelta::from_fahrenheit_degrees(10);
  std::optional<double> within_s;  ///< from lighting to the last stint's end
  std::optional<Fuel> fuel;
  std::optional<double> soak_s;  ///< from lighting to soaked, where the person knows it
};

struct TiltResolution {
  call::Axis axis;
  Resolution resolution;
};

/// One order and length of stints, and what it will be able to tell. Times in [s].
struct Plan {
  std::vector<int> order;
  double dwell_s = 0.0;
  double settling_s = 0.0;  ///< of each stint that follows a change
  double counted_s = 0.0;   ///< of the same
  double soak_s = 0.0;
  double burn_s = 0.0;  ///< soak and all stints
  std::optional<FuelNeed> fuel;
  Resolution level;
  std::optional<Resolution> run;  ///< empty with one probe
  std::vector<TiltResolution> tilts;
  /// Chances for the question that was asked; of the tilts the blunter one.
  Resolution asked;
  /// "No odds" where nothing changed and "clear" where twice what matters did, each in 4 burns
  /// of 5.
  bool settles = false;
};

/// Two or three plans side by side, shortest first.
struct Design {
  Habits habits;
  SpotPlan spots;
  std::vector<Plan> plans;
  int recommended =
      0;             ///< the shortest that settles the question; else the one with the best chance
  int left_out = 0;  ///< plans that do not fit into the hours
};

/// Fails: bad_input, in words for a person: probes, settings, question and hours that no plan can
/// meet.
Result<Design> make_design(const Pit& pit, const Wishes& wishes, Habits habits);

}  // namespace pitwright::design
