#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <string>
#include <vector>

#include <fmt/core.h>

#include "trial.h"

// toast_check DIR [--overlay]: every photograph that tools/make_toast.py --bench put into DIR, read
// and held against its truth. Prints one line each and the bars; with --overlay also
// DIR/NAME.found.png.
namespace {

using namespace pitwright;
namespace fs = std::filesystem;

std::vector<fs::path> documents_in(const fs::path& folder) {
  std::vector<fs::path> all;
  for (const auto& entry : fs::directory_iterator(folder))
    if (entry.path().extension() == ".toml") all.push_back(entry.path());
  std::ranges::sort(all);
  return all;
}

double middle(std::vector<double> values) {
  std::ranges::sort(values);
  return values[values.size() / 2];
}

struct Tally {
  std::vector<double> alone, toast, joint;
  int join_covered = 0, join_counted = 0;
  std::vector<double> spearman, rms;
  int failed = 0, slices = 0, counted = 0, covered = 0, found = 0, laid = 0;
  int glare = 0, glare_out = 0, wrongly = 0, radiant = 0, radiant_said = 0, even = 0, even_said = 0;

  void add(const bench::ToastTrial& t) {
    spearman.push_back(t.spearman);
    rms.push_back(t.rms_f);
    laid += t.laid;
    found += t.found;
    counted += t.counted;
    covered += t.covered;
    glare += t.glare;
    glare_out += t.glare_left_out;
    wrongly += t.left_out_wrongly;
    radiant += t.radiant_probes;
    radiant_said += t.radiant_said;
    even += t.even_probes;
    even_said += t.even_said;
  }
};

void print(const Tally& t) {
  const auto share = [](const std::vector<double>& values, auto holds) {
    return static_cast<int>(std::ranges::count_if(values, holds));
  };
  double squares = 0.0;
  for (const double r : t.rms) squares += r * r / static_cast<double>(t.rms.size());
  fmt::print("\n{} photographs, {} could not be read\n", t.rms.size(), t.failed);
  fmt::print("slices found {} of {}, counted {}\n", t.found, t.laid, t.counted);
  fmt::print("rank agreement: lowest {:.3f}, median {:.3f}; at least 0.8 in {} of {}\n",
             std::ranges::min(t.spearman), middle(t.spearman),
             share(t.spearman, [](double r) { return r >= 0.8; }), t.spearman.size());
  fmt::print(
      "anchored error: rms over all {:.2f} F, median {:.2f}, highest {:.2f}; at most 6 F in {} "
      "of {}\n",
      std::sqrt(squares), middle(t.rms), std::ranges::max(t.rms),
      share(t.rms, [](double r) { return r <= 6.0; }), t.rms.size());
  fmt::print("95 % ranges of slices hold the truth: {} of {} ({:.1f} %)\n", t.covered, t.counted,
             100.0 * t.covered / std::max(t.counted, 1));
  fmt::print("glare left out: {} of {}; left out without cause: {}\n", t.glare_out, t.glare,
             t.wrongly);
  fmt::print(
      "radiant heat said: {} of {} probes at which toast got 10 F or more than air; "
      "wrongly said: {} of {}\n",
      t.radiant_said, t.radiant, t.even_said, t.even);
}

void print_joined(const Tally& t) {
  const auto rms = [](const std::vector<double>& values) {
    double squares = 0.0;
    for (const double r : values) squares += r * r / static_cast<double>(values.size());
    return std::sqrt(squares);
  };
  int best = 0, better = 0;
  for (std::size_t i = 0; i < t.joint.size(); ++i) {
    best += t.joint[i] < std::min(t.alone[i], t.toast[i]) ? 1 : 0;
    better += t.joint[i] < t.alone[i] ? 1 : 0;
  }
  fmt::print(
      "error of the air at the slices, about its mean: thermometers alone {:.2f} F, toast alone "
      "{:.2f}, joined {:.2f}; joined below thermometers in {}, below both in {} of {}\n",
      rms(t.alone), rms(t.toast), rms(t.joint), better, best, t.joint.size());
  fmt::print("95 % ranges of the joined air hold the truth: {} of {} ({:.1f} %)\n", t.join_covered,
             t.join_counted, 100.0 * t.join_covered / std::max(t.join_counted, 1));
}

}  // namespace

int main(int argc, char** argv) {
  if (argc < 2) {
    fmt::print(stderr, "toast_check DIR [--overlay]\n");
    return 2;
  }
  Tally tally;
  fmt::print("photograph     found  counted  place mm   L* rms  ranks   rms F  glare\n");
  for (const auto& path : documents_in(argv[1])) {
    auto document = toast::read_toast(path);
    const auto open = document ? toast::open_toast(*document) : std::unexpected(document.error());
    if (!open) {
      fmt::print("{}\n", open.error().what);
      ++tally.failed;
      continue;
    }
    auto truth = path;
    const auto t = bench::judged(*open, bench::read_truth(truth.replace_extension(".truth.json")));
    fmt::print("{:<14} {:>5} {:>8} {:>9.1f} {:>8.2f} {:>6.3f} {:>7.2f}  {}/{}\n",
               path.stem().string(), t.found, t.counted, t.place_mm, t.lightness_rms, t.spearman,
               t.rms_f, t.glare_left_out, t.glare);
    tally.add(t);
    if (const auto join = bench::joined(*open, bench::read_truth(truth))) {
      tally.alone.push_back(join->alone_f);
      tally.toast.push_back(join->toast_f);
      tally.joint.push_back(join->joint_f);
      tally.join_covered += join->covered;
      tally.join_counted += join->counted;
    }
    if (argc > 2) {
      auto out = path;
      auto judged = open->seen;
      for (std::size_t i = 0; i < judged.slices.size(); ++i)
        judged.slices[i].flaw = open->map.flaws[i];
      const auto drawn = photo::draw_found(open->document.photo, open->document.scene, judged,
                                           out.replace_extension(".found.png"));
      if (!drawn) fmt::print("{}\n", drawn.error().what);
    }
  }
  if (!tally.rms.empty()) print(tally);
  if (!tally.joint.empty()) print_joined(tally);
  return tally.failed == 0 ? 0 : 1;
}
