#pragma once

#include <vector>

#include "numeric/random.h"
#include "rehearse/model.h"

namespace pitwright::rehearse {

/// Who feeds the fire: the controller or the person, with the dead time between deciding and
/// burning. Looks once a tick.
class Feeding {
 public:
  /// `human` draws the scatter of splits; null: exact habits.
  Feeding(const Fire& fire, double set_c, double heat_w, double start_s, numeric::Random* human);

  /// Heat of the fuel that reaches the bed during the tick that starts at `t_s` [W].
  double feed_w(double t_s, double sensor_c);

  /// The splits decided since the start [s].
  const std::vector<double>& splits_s() const { return splits_s_; }
  double used_j() const { return used_j_; }
  /// When the last fuel was fed; infinity while there is some left.
  double empty_at_s() const { return empty_at_s_; }

 private:
  double decided_w(double t_s, double sensor_c);
  double relay_w(double sensor_c);
  double feeder_w(double t_s, double sensor_c);
  double damper_w(double sensor_c);
  double split_w(double t_s, double sensor_c);
  double asked_share(double sensor_c);

  Fire fire_;
  double set_c_;
  numeric::Random* human_;
  std::vector<double> on_its_way_w_;  // ring: dead time in ticks
  std::size_t next_ = 0;
  bool on_ = false;
  double integral_ = 0;
  double share_ = 0;
  double cycle_start_s_;
  double next_split_s_;
  std::vector<double> splits_s_;
  double used_j_ = 0;
  double empty_at_s_ = std::numeric_limits<double>::infinity();
};

}  // namespace pitwright::rehearse
