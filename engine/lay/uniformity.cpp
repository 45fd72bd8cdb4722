#include "lay/uniformity.h"

#include <algorithm>
#include <array>
#include <cmath>

#include "base/expects.h"
#include "numeric/mixture.h"

namespace pitwright::lay {
namespace {

constexpr double z95 = 1.959964;
constexpr double assumed_outside_c = 20.0, outside_half_k = 10.0;
constexpr int asked_places = 9;
/// Source: SAE AMS2750F, furnace classes and their uniformity tolerance [K].
constexpr std::array class_half_k{3.0, 6.0, 8.0, 10.0, 14.0, 28.0};
/// Source: ASTM E145-19, types of ovens by uniformity [% of the rise over ambient].
struct OvenType {
  double percent;
  const char* name;
};
constexpr std::array oven_types{OvenType{1.0, "IIA"}, OvenType{2.0, "IA"}, OvenType{2.5, "IIB"},
                                OvenType{5.0, "IB"}};

/// Half widths at 95 % become ones that hold for `count` comparisons at once (Sidak).
double joint_factor(int count) {
  const double each = 1.0 - std::pow(0.95, 1.0 / std::max(1, count));
  return numeric::upper_quantile({{{1.0, 0.0, 1.0}}}, each / 2.0) / z95;
}

std::vector<Place> places_of(const std::vector<SpotRecord>& records) {
  std::vector<Place> places;
  for (const auto& record : records) places.push_back(record.place);
  return places;
}

Place middle_of(const std::vector<Place>& places) {
  Place low = places.front(), high = low;
  for (const auto& p : places) {
    low = {std::min(low.x_m, p.x_m), std::min(low.y_m, p.y_m), std::min(low.z_m, p.z_m)};
    high = {std::max(high.x_m, p.x_m), std::max(high.y_m, p.y_m), std::max(high.z_m, p.z_m)};
  }
  return {0.5 * (low.x_m + high.x_m), 0.5 * (low.y_m + high.y_m), 0.5 * (low.z_m + high.z_m)};
}

double distance(const Place& a, const Place& b) {
  return std::hypot(a.x_m - b.x_m, a.y_m - b.y_m, a.z_m - b.z_m);
}

/// Largest difference of two means: as measured, with the simultaneous range of all pairs.
Estimate gradient_of(const std::vector<SpotRecord>& records) {
  const int n = static_cast<int>(records.size());
  const double factor = joint_factor(n * (n - 1) / 2);
  Estimate gradient{0.0, 0.0, 0.0};
  for (const auto& a : records)
    for (const auto& b : records) {
      const double d = a.mean_c - b.mean_c;
      const double half = factor * std::hypot(a.uncertainty_k, b.uncertainty_k);
      gradient.value = std::max(gradient.value, d);
      gradient.low = std::max(gradient.low, d - half);
      if (&a != &b) gradient.high = std::max(gradient.high, d + half);
    }
  return gradient;
}

IecFigures iec_figures(const std::vector<SpotRecord>& records,
                       const UniformityConditions& conditions) {
  IecFigures iec;
  const Place middle = conditions.middle.value_or(middle_of(places_of(records)));
  iec.center_off_m = HUGE_VAL;
  for (int i = 0; i < std::ssize(records); ++i) {
    const double off = distance(records[static_cast<std::size_t>(i)].place, middle);
    if (off >= iec.center_off_m) continue;
    iec.center_off_m = off;
    iec.center = i;
  }
  const auto& center = records[static_cast<std::size_t>(iec.center)];
  const auto about = [](double value, double half) {
    return Estimate{value, value - half, value + half};
  };
  iec.achieved_c = about(center.mean_c, center.uncertainty_k);
  for (const auto& record : records) {
    const bool is_center = &record == &center;
    iec.variation_k.push_back(
        about(record.mean_c - center.mean_c,
              is_center ? 0.0 : std::hypot(record.uncertainty_k, center.uncertainty_k)));
    iec.fluctuation_k.push_back(0.5 * (record.high_c - record.low_c));
    iec.two_sd_k.push_back(2.0 * record.sd_k);
    iec.worst_fluctuation_k = std::max(iec.worst_fluctuation_k, iec.fluctuation_k.back());
  }
  iec.gradient_k = gradient_of(records);
  const auto shown = conditions.shown_c ? conditions.shown_c : conditions.set_c;
  if (shown) iec.indicated_error_k = about(*shown - center.mean_c, center.uncertainty_k);
  return iec;
}

std::optional<int> class_for(double worst_k) {
  for (int k = 1; k <= std::ssize(class_half_k); ++k)
    if (worst_k <= furnace_class_k(k)) return k;
  return std::nullopt;
}

double mean_of(const std::vector<SpotRecord>& records) {
  double sum = 0.0;
  for (const auto& record : records) sum += record.mean_c;
  return sum / static_cast<double>(records.size());
}

AmsFigures ams_figures(const std::vector<SpotRecord>& records,
                       const UniformityConditions& conditions) {
  AmsFigures ams{};
  ams.set_assumed = !conditions.set_c;
  const double set = conditions.set_c.value_or(mean_of(records));
  const double factor = joint_factor(static_cast<int>(records.size()));
  for (const auto& record : records) {
    const double worst = std::max(record.high_c - set, set - record.low_c);
    ams.worst_k.value = std::max(ams.worst_k.value, worst);
    ams.worst_k.low = std::max(ams.worst_k.low, worst - factor * record.uncertainty_k);
    ams.worst_k.high = std::max(ams.worst_k.high, worst + factor * record.uncertainty_k);
  }
  ams.furnace_class = class_for(ams.worst_k.value);
  ams.class_sure = class_for(ams.worst_k.high);
  return ams;
}

Result<AstmFigures> astm_figures(const std::vector<SpotRecord>& records,
                                 const UniformityConditions& conditions) {
  AstmFigures astm{};
  astm.outside_assumed = !conditions.outside_c;
  const double outside = conditions.outside_c.value_or(assumed_outside_c);
  const double reference = mean_of(records), rise = reference - outside;
  const double slack = astm.outside_assumed ? outside_half_k : 0.0;
  if (!(rise > slack))
    return fail(ErrorKind::bad_input,
                "the chamber, {:.1f} degC, is not above the outside air ({:.1f} degC): a share of "
                "the rise cannot be given",
                reference, outside);
  const double factor = joint_factor(static_cast<int>(records.size()));
  for (const auto& record : records) {
    const double off = std::abs(record.mean_c - reference), half = factor * record.uncertainty_k;
    astm.percent.value = std::max(astm.percent.value, 100.0 * off / rise);
    astm.percent.low = std::max(astm.percent.low, 100.0 * (off - half) / (rise + slack));
    astm.percent.high = std::max(astm.percent.high, 100.0 * (off + half) / (rise - slack));
    astm.ratio.push_back((record.mean_c - outside) / rise);
  }
  for (const auto& type : oven_types)
    if (astm.type.empty() && astm.percent.value <= type.percent) astm.type = type.name;
  return astm;
}

}  // namespace

double furnace_class_k(int furnace_class) {
  expects(furnace_class >= 1 && furnace_class <= std::ssize(class_half_k));
  return class_half_k[static_cast<std::size_t>(furnace_class - 1)];
}

Result<Uniformity> uniformity(const std::vector<SpotRecord>& records,
                              const UniformityConditions& conditions) {
  if (records.size() < 2)
    return fail(ErrorKind::bad_input,
                "uniformity needs counted readings at two places or more, and there {} {}",
                records.size() == 1 ? "is" : "are", records.size());
  auto astm = astm_figures(records, conditions);
  if (!astm) return std::unexpected(astm.error());
  return Uniformity{iec_figures(records, conditions), ams_figures(records, conditions),
                    *std::move(astm), static_cast<int>(records.size()),
                    records.size() < asked_places};
}

std::vector<SpotRecord> records_of(const call::Together& together, int setting) {
  std::vector<SpotRecord> records;
  const int settings = static_cast<int>(together.settings.size());
  const auto s = static_cast<std::size_t>(setting);
  for (const auto& spot : together.spots) {
    const auto& counted = spot.counted[s];
    if (counted.moments == 0) continue;
    const double own = spot.covariance_k2[static_cast<std::size_t>(setting * settings + setting)];
    const double sd = std::hypot(spot.probe_sd_k, std::isfinite(own) ? std::sqrt(own) : 0.0);
    records.push_back({spot.spot,
                       {spot.x_m.value_or(0.0), spot.y_m.value_or(0.0), spot.z_m.value_or(0.0)},
                       counted.mean_c,
                       counted.low_c,
                       counted.high_c,
                       counted.sd_k,
                       z95 * sd});
  }
  return records;
}

}  // namespace pitwright::lay
