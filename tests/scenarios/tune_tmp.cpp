#include <cmath>
#include <cstdio>
#include <cstdlib>

#include "rehearse/aim.h"
#include "rehearse/scenarios.h"
#include "rehearse/truth.h"
using namespace pitwright;
int main(int argc, char** argv) {
  auto s = *rehearse::make_scenario("S5");
  if (argc > 1) s.model.body.wall_j_k = std::atof(argv[1]);
  if (argc > 2) s.plan.soaked_share = std::atof(argv[2]);
  if (argc > 3) s.model.body.wall_deep_w_k = std::atof(argv[3]);
  if (argc > 4) s.model.body.wall_out_w_k = std::atof(argv[4]);
  if (argc > 5) s.model.body.deep_j_k = std::atof(argv[5]);
  rehearse::aim(s.model, s.targets);
  s.model.disturbance = {.gust_m_s = 0};
  for (auto& sp : s.model.spots) sp.place.eddy_k = 0;
  s.plan = {};
  s.plan.stints = {{"A", 6 * 3600}};
  s.plan.start = rehearse::Start::short_of_soaked;
  s.plan.soaked_share = argc > 2 ? std::atof(argv[2]) : 0.2;
  s.plan.cooled_before_s = argc > 6 ? std::atof(argv[6]) : 600;
  auto b = *rehearse::rehearse(s, 1, {true});
  double want = b.truth.settings[0].level_c;
  auto rest = [&](double min) {
    double sum = 0;
    int n = 0;
    for (auto& p : b.burn.probes) {
      if (p.role != Role::air) continue;
      for (size_t i = 0; i < p.readings.seconds.size(); ++i)
        if (std::abs(p.readings.seconds[i] - min * 60) < 91) {
          sum += p.readings.values[i];
          ++n;
        }
    }
    return (want - sum / n) * 1.8;
  };
  std::printf("want %.1f C\n", want);
  for (double m : {2., 5., 15., 30., 45., 60., 90., 105., 120., 150., 180., 240., 300.})
    std::printf("%4.0f min rest %.2f F  slope %.1f F/h tau %.1f min\n", m, rest(m),
                (rest(m - 2) - rest(m + 5)) / 7 * 60, 20 / std::log(rest(m) / rest(m + 20)));
}
