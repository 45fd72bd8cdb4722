#include <cstdio>
#include <cstdlib>
#include <cstring>
#include <map>
#include <string>

#include <fmt/format.h>

#include "call/call.h"
#include "rehearse/scenarios.h"
#include "report/call_view.h"
#include "report/sentence.h"
#include "report/trouble_words.h"
using namespace pitwright;
int main(int argc, char** argv) {
  const std::string id = argv[1];
  const int n = argc > 2 ? std::atoi(argv[2]) : 20;
  auto s = *rehearse::make_scenario(id);
  if (argc > 3) {
    double d = s.plan.stints[0].dwell_s;
    std::vector<std::string> v;
    for (char* p = std::strtok(argv[3], " "); p; p = std::strtok(nullptr, " ")) v.push_back(p);
    auto old = s.plan;
    s.plan = rehearse::plain_plan(v, d);
    s.plan.start = old.start;
    s.plan.soaked_share = old.soaked_share;
    s.plan.lids = old.lids;
    s.plan.loads = old.loads;
    s.plan.front = old.front;
    s.plan.lead_s = old.lead_s;
    s.plan.cooled_before_s = old.cooled_before_s;
  }
  if (argc > 4) s.plan.front->at_s = std::atof(argv[4]) * 60;
  if (getenv("LEAD")) s.plan.lead_s = std::atof(getenv("LEAD")) * 60;
  if (getenv("DWELL"))
    for (auto& st : s.plan.stints) st.dwell_s = std::atof(getenv("DWELL")) * 60;
  std::map<std::string, std::map<std::string, int>> words;
  std::map<std::string, std::pair<double, double>> sums;
  std::map<std::string, int> counts;
  for (int seed = 1; seed <= n; ++seed) {
    const auto b = *rehearse::rehearse(s, seed, {seed == 1});
    if (seed == 1)
      for (auto& t : b.truth.settings) {
        std::printf("truth %s level %.1fF swing %.1fF/%.0fs dialgap %.1f runs", t.setting.c_str(),
                    t.level_c * 1.8 + 32, t.swing.size_k * 1.8, t.swing.period_s.value_or(0),
                    (t.dial_c - t.level_c) * 1.8);
        for (double r : t.run_k) std::printf(" %.1f", r * 1.8);
        std::puts("");
      }
    auto r = call::make_call(b.burn, {std::nullopt, argc > 5});
    if (!r) {
      std::printf("error %s\n", r.error().what.c_str());
      continue;
    }
    auto add = [&](std::string name, const call::Quantity& q) {
      for (auto& c : q.changes) {
        auto k = fmt::format("{} {}{}", name, c.from, c.to);
        words[k][std::string(name_of(c.word))]++;
        if (c.estimate) {
          sums[k].first += c.estimate->value;
          sums[k].second += (c.word_high - c.word_low) / 2;
          counts[k]++;
        }
      }
    };
    add("level", r->level);
    for (auto& x : r->spots) add("run " + x.spot, x.runs);
    for (auto& x : r->tilts) add("tilt " + std::string(name_of(x.axis)), x.tilt);
    add("spread", r->spread);
    if (r->dial_gap) add("dial", *r->dial_gap);
    if (seed <= 3)
      std::printf("--- seed %d soaked %.0f min swing %.0f s %.1f F\n  %s\n", seed,
                  r->soaked_at_s.value_or(-60) / 60, r->swing.period_s.value_or(0),
                  r->swing.size_k * 1.8, report::sentence({*r, b.burn, Scale::fahrenheit}).c_str());
    else
      std::printf("seed %d soaked %.0f\n", seed, r->soaked_at_s.value_or(-60) / 60);
    for (auto& t : r->troubles)
      std::printf("   T %d %s at %.1f amount %.2f: %s\n", (int)t.code, t.where.c_str(),
                  t.at_s.value_or(-60) / 60, t.amount,
                  report::trouble_text(t, b.burn, Scale::fahrenheit).c_str());
  }
  for (auto& [k, m] : words) {
    std::printf("%-22s mean %6.1f wordhalf %5.1f:", k.c_str(), sums[k].first / counts[k] * 1.8,
                sums[k].second / counts[k] * 1.8);
    for (auto& [w, c] : m) std::printf("  %s %d", w.c_str(), c);
    std::puts("");
  }
}
