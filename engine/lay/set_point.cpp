#include "lay/set_point.h"

#include <algorithm>
#include <cmath>

#include <Eigen/LU>

namespace pitwright::lay {
namespace {

constexpr double z95 = 1.959964;
constexpr double assumed_outside_c = 15.0;
constexpr double outside_sd_k = 5.0;    ///< +- 10 K at 95 %
constexpr double day_sd_k = 1.5;        ///< a place from burn to burn; common practice, no source
constexpr double departure_sd_k = 3.0;  ///< prior sd of a: how far the ratio may fail to keep
constexpr double ratio_sd = 0.3;        ///< prior sd of r about 1
constexpr double least_rise_k = 5.0;
constexpr double far_k = 30.0;

/// T_place - T_outside = a + r (T_set - T_outside): a posterior of (a, r).
struct Line {
  Eigen::Vector2d mean;
  Eigen::Matrix2d covariance;

  double place_variance(double x) const {
    const Eigen::Vector2d row(1.0, x);
    return row.dot(covariance * row) + day_sd_k * day_sd_k;
  }
};

struct Evidence {
  double rise_k, place_rise_k, variance;
};

Line fit(const std::vector<Evidence>& evidence) {
  Eigen::Matrix2d precision =
      Eigen::Vector2d(1.0 / (departure_sd_k * departure_sd_k), 1.0 / (ratio_sd * ratio_sd))
          .asDiagonal();
  Eigen::Vector2d pull(0.0, 1.0 / (ratio_sd * ratio_sd));
  for (const auto& e : evidence) {
    const Eigen::Vector2d row(1.0, e.rise_k);
    precision += row * row.transpose() / e.variance;
    pull += row * e.place_rise_k / e.variance;
  }
  Line line{Eigen::Vector2d::Zero(), precision.inverse()};
  line.mean = line.covariance * pull;
  // Where burns scatter more than they should, the line is that much less sure.
  double squares = 0.0;
  for (const auto& e : evidence) {
    const double rest = e.place_rise_k - line.mean(0) - line.mean(1) * e.rise_k;
    squares += rest * rest / e.variance;
  }
  const double degrees = static_cast<double>(evidence.size()) - 2.0;
  if (degrees >= 1.0) line.covariance *= std::max(1.0, squares / degrees);
  return line;
}

Result<std::vector<Evidence>> rises_of(const std::vector<Dialed>& dialed, double assumed_c,
                                       std::vector<DialNote>& notes) {
  std::vector<Evidence> evidence;
  for (const auto& one : dialed) {
    const double outside = one.outside_c.value_or(assumed_c);
    const Evidence e{one.set_c - outside, one.place_c - outside, 0.0};
    if (!(e.rise_k > least_rise_k) || !(e.place_rise_k > least_rise_k))
      return fail(ErrorKind::bad_input,
                  "set point {:.1f} degC and place {:.1f} degC must both lie above the outside air "
                  "({:.1f} degC): check the burn's set point and its outside probe",
                  one.set_c, one.place_c, outside);
    double variance = one.place_sd_k * one.place_sd_k + day_sd_k * day_sd_k;
    if (!one.outside_c) {
      const double slip = (1.0 - e.place_rise_k / e.rise_k) * outside_sd_k;
      variance += slip * slip;
      if (std::ranges::find(notes, DialNote::outside_assumed) == notes.end())
        notes.push_back(DialNote::outside_assumed);
    }
    evidence.push_back({e.rise_k, e.place_rise_k, variance});
  }
  return evidence;
}

double known_outside_c(const std::vector<Dialed>& dialed) {
  double sum = 0.0;
  int n = 0;
  for (const auto& one : dialed)
    if (one.outside_c) {
      sum += *one.outside_c;
      ++n;
    }
  return n > 0 ? sum / n : assumed_outside_c;
}

}  // namespace

Result<SetPointFor> set_point_for(double wanted_c, std::optional<double> outside_c,
                                  const std::vector<Dialed>& evidence) {
  if (evidence.empty())
    return fail(ErrorKind::bad_input,
                "no burn with a known set point: give set_point in pit.toml, or a probe of role "
                "\"set\"");
  SetPointFor answer{};
  const double usual_c = known_outside_c(evidence);
  const auto rises = rises_of(evidence, usual_c, answer.notes);
  if (!rises) return std::unexpected(rises.error());
  const double outside = outside_c.value_or(usual_c);
  if (!(wanted_c > outside + least_rise_k))
    return fail(ErrorKind::bad_input,
                "the wanted heat, {:.1f} degC, is not above the outside air ({:.1f} degC)",
                wanted_c, outside);
  const auto line = fit(*rises);
  const double a = line.mean(0), r = line.mean(1);
  const double rise = (wanted_c - outside - a) / r;
  answer.wanted_c = wanted_c;
  answer.outside_c = outside;
  answer.per_outside_k = 1.0 / r - 1.0;
  double variance = line.place_variance(rise) / (r * r);
  if (!outside_c) {
    answer.notes.push_back(DialNote::today_assumed);
    variance += std::pow(answer.per_outside_k * outside_sd_k, 2);
  }
  const double half = z95 * std::sqrt(variance);
  answer.set_c = {outside + rise, outside + rise - half, outside + rise + half};
  answer.place_sd_k = std::sqrt(line.place_variance(rise));
  const double ratio = (wanted_c - outside) / rise;
  const double ratio_half = z95 * answer.place_sd_k / rise;
  answer.ratio = {ratio, ratio - ratio_half, ratio + ratio_half};
  double low = evidence.front().set_c, high = low;
  for (const auto& one : evidence) {
    low = std::min(low, one.set_c);
    high = std::max(high, one.set_c);
  }
  if (high - low < far_k / 3.0) answer.notes.push_back(DialNote::one_set_point);
  if (answer.set_c.value < low - far_k || answer.set_c.value > high + far_k)
    answer.notes.push_back(DialNote::far_from_tried);
  return answer;
}

std::optional<Dialed> dialed(const Lay& lay, const Patch& patch, int setting,
                             std::optional<double> set_c, std::optional<double> outside_c) {
  if (!set_c || setting < 0 || setting >= std::ssize(lay.settings)) return std::nullopt;
  const auto place = over(lay, patch)[static_cast<std::size_t>(setting)];
  return Dialed{*set_c, outside_c, place.celsius,
                (place.celsius_high - place.celsius_low) / (2.0 * z95)};
}

}  // namespace pitwright::lay
