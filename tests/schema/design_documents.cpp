#include <cstdio>

#include <fmt/core.h>

#include "planned/plan_view.h"

// Prints what `pitwright design --json` says of several pits and questions, each document ended by
// a NUL.
namespace {

using namespace pitwright;

Pit cabinet() {
  Pit pit;
  pit.name = "Cabinet";
  pit.width_m = 0.6;
  pit.depth_m = 0.5;
  pit.set_point = degF(250);
  pit.grates = {{"bottom", 0.3}, {"top", 0.9}};
  return pit;
}

void print(const Pit& pit, const design::Wishes& wishes, Scale scale) {
  const auto made = design::make_design(pit, wishes, design::assumed_habits(wishes.fuel));
  if (!made) return;
  fmt::print("{}", planned::plan_json({pit, wishes, *made, scale}));
  std::putchar('\0');
}

}  // namespace

int main() {
  design::Wishes wishes;
  wishes.fuel = design::Fuel::pellet;
  print(cabinet(), wishes, Scale::fahrenheit);
  wishes.fuel = design::Fuel::wood;
  wishes.settings = {"low", "mid", "high"};
  wishes.probes = 3;
  wishes.question = design::Question::tilt;
  wishes.within_s = 8.0 * 3600.0;
  print(cabinet(), wishes, Scale::celsius);
  design::Wishes bare;
  bare.probes = 1;
  bare.question = design::Question::level;
  print(Pit{}, bare, Scale::fahrenheit);
  return 0;
}
