#pragma once

#include <map>
#include <string>
#include <utility>
#include <vector>

#include "numeric/random.h"
#include "rehearse/burning.h"
#include "rehearse/plan.h"

namespace pitwright::rehearse {

/// What one logger wrote: one row a sample, one column a thermometer.
struct LoggerRecord {
  Logger logger;
  std::vector<double> true_s;  ///< when each row was taken
  std::vector<double>
      stamp_s;  ///< what its clock said, same zero; whole seconds, tenths below an interval of 5 s
  std::vector<std::vector<double>> cells;  ///< [column][row], its scale, rounded; NaN: see words
  std::map<std::pair<std::size_t, std::size_t>, std::string> words;  ///< [column, row]: a word cell
};

/// One logger at work: each thermometer lags behind what it touches, is sampled on the logger's own
/// clock, and errs.
class LoggerAtWork {
 public:
  LoggerAtWork(const PitModel& model, const Logger& logger, std::uint64_t seed,
               std::uint64_t stream);

  /// Lets the tick that ended at `t_s` pass; from `record_from_s` on, rows are kept.
  void tick(const Burning& pit, double t_s);
  LoggerRecord finish() &&;

 private:
  struct Channel {
    double lag_s;
    double before_c = 0, now_c = 0;  ///< what it feels, at both ends of the tick
    double metal_c = 0;              ///< of the rail it touches
    double was_c = 0, is_c = 0;      ///< what it shows, at both ends
    double frozen = 0;               ///< last good cell
    bool started = false;
  };

  double felt_c(const Burning& pit, const Thermometer& thermometer, Channel& channel,
                double t_s) const;
  void take_row(double t_s, double share);
  double cell(std::size_t column, double value, double t_s);

  LoggerRecord record_;
  std::vector<Channel> channels_;
  numeric::Random random_;
  double next_s_;
  double set_c_;
};

/// Speed in km/h, the unit of Role::wind.
constexpr double kmh(double m_s) {
  return 3.6 * m_s;
}

}  // namespace pitwright::rehearse
