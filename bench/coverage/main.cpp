// bench/coverage: burns with known truth, called; prints whether the ranges keep their promise.
#include <algorithm>
#include <atomic>
#include <chrono>
#include <cmath>
#include <cstdlib>
#include <numeric>
#include <string>
#include <thread>
#include <vector>

#include <CLI/CLI.hpp>
#include <fmt/core.h>

#include "coverage/trial.h"

namespace pitwright::bench {
namespace {

struct Share {
  double mean, error;
};

/// Share of ranges that held, with its standard error between burns.
Share share_of(const std::vector<const Held*>& burns) {
  double given = 0, held = 0;
  for (const auto* b : burns) {
    given += b->given;
    held += b->held;
  }
  if (given == 0) return {std::nan(""), std::nan("")};
  const double mean = held / given;
  // A ratio of sums: its error from the scatter of held - mean x given between burns.
  double squares = 0;
  for (const auto* b : burns) squares += std::pow(b->held - mean * b->given, 2);
  return {mean, std::sqrt(squares) / given};
}

/// What all ranges would have to be stretched by to hold the truth in this share of cases.
double stretch_to_hold(const std::vector<const Held*>& burns, double share) {
  std::vector<double> misses;
  for (const auto* b : burns) misses.insert(misses.end(), b->misses.begin(), b->misses.end());
  if (misses.empty() || !(share > 0.0)) return std::nan("");
  const auto rank =
      static_cast<std::ptrdiff_t>(std::ceil(share * static_cast<double>(misses.size()))) - 1;
  const auto at = misses.begin() + std::clamp<std::ptrdiff_t>(rank, 0, std::ssize(misses) - 1);
  std::ranges::nth_element(misses, at);
  return *at;
}

double median_half_width(const std::vector<const Held*>& burns) {
  std::vector<double> all;
  for (const auto* b : burns) all.insert(all.end(), b->half_widths.begin(), b->half_widths.end());
  if (all.empty()) return std::nan("");
  const auto middle = all.begin() + std::ssize(all) / 2;
  std::ranges::nth_element(all, middle);
  return *middle;
}

std::vector<const Held*> gather(const std::vector<Trial>& trials, int design,
                                std::array<Held, quantities> Trial::*who, int quantity) {
  std::vector<const Held*> out;
  for (const auto& t : trials) {
    if (design < 0 || t.design == design) {
      out.push_back(&(t.*who)[static_cast<std::size_t>(quantity)]);
    }
  }
  return out;
}

/// "ok", or what the bar of docs/methods/call.md says of these figures.
std::string verdict(Quantity quantity, Share ours, double our_width, double peer_width) {
  const double floor = quantity == Quantity::spread ? 0.95 : 0.93;
  std::string out;
  if (ours.mean < floor - 2.6 * ours.error) out += " UNDER";
  const bool wider = peer_width > 0 && our_width > peer_width;
  if (wider) out += " WIDER";
  if (ours.mean - 2.6 * ours.error > 0.97 && wider) out += " OVER";
  return out.empty() ? "ok" : out;
}

/// "at ours": the peer's half-width if it were stretched until it held as often as ours does.
void print_table(const std::vector<Trial>& trials, int design, const std::string& title) {
  const auto burns = std::ranges::count_if(
      trials, [&](const Trial& t) { return design < 0 || t.design == design; });
  fmt::print("\n{} ({} burns)\n", title, burns);
  fmt::print("{:<9} {:>7} {:>14} {:>7} | {:>14} {:>7} {:>8} | {:>8} | {:>8}  {}\n", "", "ranges",
             "ours held", "half", "peer held", "half", "at ours", "textbook", "snapshot", "bar");
  for (int q = 0; q < quantities; ++q) {
    const auto ours = gather(trials, design, &Trial::ours, q);
    const auto peer = gather(trials, design, &Trial::reference, q);
    const auto book = gather(trials, design, &Trial::textbook, q);
    double squares = 0, count = 0;
    for (const auto& t : trials) {
      if (design >= 0 && t.design != design) continue;
      for (const double e : t.snapshot_errors[static_cast<std::size_t>(q)]) {
        squares += e * e;
        ++count;
      }
    }
    int given = 0;
    for (const auto* b : ours) given += b->given;
    const auto held = share_of(ours), peer_held = share_of(peer);
    const double half = median_half_width(ours), peer_half = median_half_width(peer);
    fmt::print(
        "{:<9} {:>7} {:>6.3f} +-{:.3f} {:>7.1f} | {:>6.3f} +-{:.3f} {:>7.1f} {:>8.1f} | {:>8.3f} | "
        "{:>8.1f} "
        " {}\n",
        name_of(static_cast<Quantity>(q)), given, held.mean, held.error, half, peer_held.mean,
        peer_held.error, peer_half, peer_half * stretch_to_hold(peer, held.mean),
        share_of(book).mean, std::sqrt(squares / count),
        verdict(static_cast<Quantity>(q), held, half, peer_half));
  }
}

int median_mark(std::vector<int> marks, int never) {
  for (int& m : marks) {
    if (m == 0) m = never;
  }
  std::ranges::sort(marks);
  return marks.empty() ? 0 : marks[marks.size() / 2];
}

void print_words(const std::vector<Trial>& trials) {
  fmt::print(
      "\nWords (final call; \"ever\": at any look; \"saved\": of the planned burn once the level "
      "is "
      "clear, median)\n");
  fmt::print("{:<40} {:>6} {:>12} {:>12} {:>10} {:>9} {:>15} {:>10}\n", "", "burns", "wrong clear",
             "wrong no odds", "ever wrong", "muddled", "median clear at", "saved");
  for (int d = 0; d < std::ssize(designs()); ++d) {
    int burns = 0, clear = 0, no_odds = 0, ever = 0;
    double muddled = 0, questions = 0;
    std::vector<int> level, run;
    for (const auto& t : trials) {
      if (t.design != d) continue;
      ++burns;
      clear += t.words.wrong_clear > 0;
      no_odds += t.words.wrong_no_odds > 0;
      ever += t.ever_wrong;
      muddled += t.words.muddled;
      questions += t.words.questions;
      level.push_back(t.clear_after_level);
      run.push_back(t.clear_after_run);
    }
    if (burns == 0) continue;
    const auto& design = designs()[static_cast<std::size_t>(d)];
    const int never = static_cast<int>(design.order.size()) + 1;
    const int planned = never - 1, first_level = median_mark(level, never);
    fmt::print("{:<40} {:>6} {:>12} {:>12} {:>9.1f}% {:>8.1f}% {:>6} level {} runs {:>10}\n",
               design.name, burns, clear, no_odds, 100.0 * ever / burns,
               100.0 * muddled / questions, first_level, median_mark(run, never),
               first_level < never
                   ? fmt::format("{:.0f} min", (planned - first_level) * design.dwell_s / 60.0)
                   : "none");
  }
}

/// How many more stints a question was told to need, and what came of it.
void print_promises(const std::vector<Trial>& trials) {
  for (int d = -1; d < std::ssize(designs()); ++d) {
    int promised = 0, kept = 0, two = 0, early = 0;
    for (const auto& t : trials) {
      if (d >= 0 && t.design != d) continue;
      promised += t.promised;
      kept += t.kept;
      two += t.promised_two;
      early += t.kept_early;
    }
    if (promised == 0) continue;
    if (d < 0)
      fmt::print("\nMore stints, as told when the fourth closed (80 % are to be settled)\n");
    fmt::print(
        "{:<40} {:>6} told, {:.0f} % settled by then; {} told two or more, {:.0f} % a stint "
        "earlier\n",
        d < 0 ? "all" : designs()[static_cast<std::size_t>(d)].name, promised,
        100.0 * kept / promised, two, 100.0 * early / std::max(1, two));
  }
}

void print_minutes(const std::vector<Trial>& trials) {
  int burns = 0, looks = 0, moved = 0, ever = 0;
  double seconds = 0.0;
  for (const auto& t : trials) {
    ++burns;
    looks += t.minute_looks;
    moved += t.words_moved;
    ever += t.ever_wrong;
    seconds += t.look_seconds;
  }
  if (looks == 0) return;
  fmt::print(
      "\nA look every minute: {} looks at {} burns, {:.1f} ms each; {} of them in other words than "
      "at the last close; a wrong \"clear\" or \"no odds\" ever in {} of {} burns ({:.1f} %)\n",
      looks, burns, 1000.0 * seconds / looks, moved, ever, burns, 100.0 * ever / burns);
}

std::vector<Trial> run_all(int per_design, std::uint64_t first, const std::vector<int>& chosen,
                           const TrialOptions& options) {
  const int total = per_design * static_cast<int>(std::ssize(chosen));
  std::vector<Trial> trials(static_cast<std::size_t>(total));
  std::atomic<int> next = 0;
  const auto work = [&] {
    for (int i = next++; i < total; i = next++) {
      const int design = chosen[static_cast<std::size_t>(i % std::ssize(chosen))];
      const auto number = first + static_cast<std::uint64_t>(i / std::ssize(chosen));
      trials[static_cast<std::size_t>(i)] = run_trial(design, number, options);
    }
  };
  std::vector<std::jthread> workers;
  for (unsigned i = 0; i < std::max(1u, std::thread::hardware_concurrency()); ++i) {
    workers.emplace_back(work);
  }
  workers.clear();
  return trials;
}

}  // namespace
}  // namespace pitwright::bench

int main(int argc, char** argv) {
  using namespace pitwright::bench;
  CLI::App app("Coverage of the call on burns with known truth");
  int per_design = 150;
  std::uint64_t first = 1;
  TrialOptions options;
  bool no_peers = false;
  std::string looks = "closes";
  std::vector<int> chosen;
  app.add_option("--burns", per_design, "Burns for each design")->check(CLI::PositiveNumber);
  app.add_option("--first", first, "Number of the first burn");
  app.add_flag("--no-peers", no_peers, "Leave the reference, the textbook and the snapshot out");
  app.add_option("--looks", looks, "When to look, beside the end")
      ->check(CLI::IsMember({"none", "closes", "minutes"}));
  const int last = static_cast<int>(std::ssize(designs())) - 1;
  app.add_option("--designs", chosen, "Only these designs, counted from 0")
      ->delimiter(',')
      ->check(CLI::Range(0, last));
  CLI11_PARSE(app, argc, argv);
  options.peers = !no_peers;
  options.looks = looks == "none"     ? Looks::none
                  : looks == "closes" ? Looks::closes
                                      : Looks::minutes;
  if (chosen.empty()) {
    chosen.resize(designs().size());
    std::iota(chosen.begin(), chosen.end(), 0);
  }

  const auto started = std::chrono::steady_clock::now();
  const auto trials = run_all(per_design, first, chosen, options);
  const double wall =
      std::chrono::duration<double>(std::chrono::steady_clock::now() - started).count();
  print_table(trials, -1, "All designs");
  for (const int d : chosen) {
    print_table(trials, d, designs()[static_cast<std::size_t>(d)].name);
  }
  print_words(trials);
  print_promises(trials);
  print_minutes(trials);
  double call_seconds = 0;
  int missed = 0, spots = 0, left_out = 0;
  for (const auto& t : trials) {
    call_seconds += t.seconds;
    missed += !t.aimed;
    spots += t.spots;
    left_out += t.spots_left_out;
  }
  fmt::print("\n{} of {} good thermometers were distrusted\n", left_out, spots);
  fmt::print("{} burns, {:.0f} s in all, {:.1f} ms a call; {} missed their aimed truth\n",
             trials.size(), wall, 1000.0 * call_seconds / static_cast<double>(trials.size()),
             missed);
  return 0;
}
