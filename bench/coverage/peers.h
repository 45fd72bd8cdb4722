#pragma once

#include <optional>
#include <vector>

#include "call/panel.h"
#include "call/windows.h"
#include "coverage/plain_reference.h"
#include "pit/burn.h"

namespace pitwright::bench {

/// What the peers measure, in this order: level, every spot's reading, every spot's run, then the
/// tilts that exist. All in degF.
struct PeerSeries {
  int spots = 0;
  int tilts = 0;
  int count() const { return 1 + 2 * spots + tilts; }
  int level() const { return 0; }
  int reading(int spot) const { return 1 + spot; }
  int run(int spot) const { return 1 + spots + spot; }
  int tilt(int axis) const { return 1 + 2 * spots + axis; }
};

/// Coefficients of each existing tilt on the spots' readings: the least-squares slope of the runs
/// on the coordinate times the measured extent. Index 0 left-right, 1 front-back, 2 top-bottom;
/// empty where there are fewer than two distinct coordinates.
std::vector<std::optional<std::vector<double>>> tilt_weights(const call::Panel& panel);

/// Block means as the plain reference wants them: settle = min(20 min, 40 % of the dwell), blocks
/// of one swing clipped to 3-20 min (5 min where there is no cycle), at least one a stretch.
PlainBlocks plain_blocks(const Burn& burn, const call::Panel& panel, const call::Windows& windows);

/// What a notebook gives: one reading of every spot at the end of the first stint of each setting.
/// Shapes: settings x series, degF.
Eigen::MatrixXd snapshots(const Burn& burn, const call::Panel& panel, const call::Windows& windows);

/// The textbook's 95 % interval from all samples after settling, as if they were independent
/// (Welch). One entry for each series and pair of settings, ordered like plain_reference's answer.
std::vector<PlainChange> textbook(const Burn& burn, const call::Panel& panel,
                                  const call::Windows& windows);

}  // namespace pitwright::bench
