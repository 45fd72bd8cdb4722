#pragma once

#include <vector>

#include "lay/lattice.h"
#include "numeric/random.h"

namespace pitwright::lay {

/// Joint draws of the lay on one grate at one setting.
struct Draws {
  Eigen::MatrixXd run_k;    ///< nodes x draws, smooth air only
  Eigen::VectorXd level_c;  ///< a draw: the air's temperature is this plus the run
};

/// Draws of all settings and grates that belong together: each is a draw of the prior, corrected by
/// what the spots measured of it less what they would have measured of the draw (Matheron's rule).
/// The prior is drawn at a coarse lattice of every grate; between its nodes the correction is
/// bilinear, the mean is exact.
/// Source: Chiles & Delfiner, Geostatistics, 2nd ed. (2012), section 7.3 (conditioning by kriging).
class DrawMaker {
 public:
  /// Pre: moments_of(posterior, places of grates[i]) are moments[i].
  DrawMaker(const Posterior& posterior, const std::vector<Lattice>& grates,
            const std::vector<Moments>& moments, std::uint64_t seed);

  Draws draws(int setting, int grate) const;
  int count() const { return count_; }

 private:
  struct Node {
    std::size_t index;  ///< of Posterior::nodes
    int draws;
    std::vector<Eigen::MatrixXd> rest;   ///< [setting] coarse places x draws
    std::vector<Eigen::VectorXd> level;  ///< [setting] the level's draw less the level as measured
  };
  Node make_node(const Posterior& posterior, std::size_t index, int draws,
                 const Eigen::MatrixXd& coarse, numeric::Random& random) const;

  const std::vector<Lattice>& grates_;
  const std::vector<Moments>& moments_;
  std::vector<double> level_c_;
  std::vector<Node> nodes_;
  std::vector<Eigen::VectorXd> level_noise_;  ///< [setting] draws
  int count_ = 0;
};

}  // namespace pitwright::lay
