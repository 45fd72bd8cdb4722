#pragma once

#include <filesystem>
#include <vector>

#include "toast/toast.h"

namespace pitwright::bench {

/// What a made-up photograph hides: written beside it as NAME.truth.json by tools/make_toast.py.
struct TrueSlice {
  double x_m, y_m, heat_f, air_f, lightness;
  bool glare;
};

std::vector<TrueSlice> read_truth(const std::filesystem::path& path);

/// One photograph read and held against its truth.
struct ToastTrial {
  int laid = 0, found = 0, counted = 0;
  int glare = 0, glare_left_out = 0;  ///< slices that shine; those of them that were left out
  int glare_named = 0;                ///< those whose reason is said to be glare
  int left_out_wrongly = 0;           ///< for glare or shape, though nothing was wrong
  double place_mm = 0.0;              ///< worst distance of a slice from its true middle
  double lightness_rms = 0.0;         ///< L*, after the mean difference is taken off
  double spearman = 0.0;              ///< heat against darkness, slices that count
  double rms_f = 0.0;                 ///< anchored heat
  int covered = 0;                    ///< slices whose 95 % range holds the truth
  int radiant_probes = 0, radiant_said = 0;  ///< where toast got 10 F more than air, or more
  int even_probes = 0, even_said = 0;        ///< where it got less than 3 F more
};

/// Pre: the toast was opened from a photograph of the script, with its truth beside it.
ToastTrial judged(const toast::Toast& toast, const std::vector<TrueSlice>& truth);

/// Toast joined with its probes as thermometers of a lay, held against the true air at the slices
/// that count; every error is rms about its mean, in F.
struct JoinTrial {
  double alone_f, toast_f, joint_f;  ///< thermometers alone, toast alone, both
  int covered = 0, counted = 0;      ///< slices whose 95 % range of the joint run holds the truth
};

/// Pre: as judged(), and probes at four places or more.
Result<JoinTrial> joined(const toast::Toast& toast, const std::vector<TrueSlice>& truth);

/// Rank correlation; ties get their mean rank.
double spearman(const std::vector<double>& a, const std::vector<double>& b);

}  // namespace pitwright::bench
