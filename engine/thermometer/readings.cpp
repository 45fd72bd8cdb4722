#include "thermometer/readings.h"

#include <algorithm>
#include <cmath>

#include "series/moments.h"

namespace pitwright::thermometer {

Sample sample_of(std::span<const double> readings, std::span<const double> reference) {
  std::vector<double> add(readings.size(), Sample::none), own(readings.begin(), readings.end());
  Sample out;
  for (std::size_t i = 0; i < readings.size(); ++i) {
    add[i] = reference[i] - readings[i];
    if (std::isfinite(add[i]))
      ++out.count;
    else
      own[i] = Sample::none;
  }
  out.reading_c = series::mean(own);
  out.add_k = series::mean(add);
  out.sd_k = series::standard_deviation(add);
  return out;
}

Pooled pooled_of(const std::vector<Sample>& samples) {
  double squares = 0.0, freedom = 0.0;
  for (const auto& sample : samples) {
    if (sample.count < 2) continue;
    squares += square(sample.sd_k) * (sample.count - 1);
    freedom += sample.count - 1;
  }
  return freedom > 0.0 ? Pooled{std::sqrt(squares / freedom), freedom} : Pooled{};
}

CheckPoint point_of(const Sample& sample, const Pooled& pooled, double resolution_k,
                    double own_more_k, double shared_k) {
  const bool repeated = sample.count > 1;
  const double sd = repeated ? sample.sd_k : pooled.sd_k;
  const double spread = sd / std::sqrt(static_cast<double>(sample.count));
  return {sample.reading_c,
          sample.add_k,
          std::sqrt(square(spread) + square(resolution_k) / 12.0 + square(own_more_k)),
          shared_k,
          spread,
          repeated ? sample.count - 1.0 : pooled.freedom};
}

bool was_read(const Entry& entry, Place place) {
  return std::ranges::any_of(entry.candidate->readings[index_of(place)],
                             [](double c) { return std::isfinite(c); });
}

std::vector<CheckPoint> points_at(const Entry& entry, std::span<const Place> places) {
  std::vector<CheckPoint> out;
  for (const Place place : places) {
    const auto& point = entry.points[index_of(place)];
    if (point) out.push_back(*point);
  }
  return out;
}

void read_fixed(std::vector<Entry>& entries, Place place, const std::optional<FixedPoint>& fixed) {
  if (!fixed) return;
  std::vector<Sample> samples;
  for (const auto& entry : entries) {
    const auto& readings = entry.candidate->readings[index_of(place)];
    const std::vector<double> reference(readings.size(), fixed->celsius);
    samples.push_back(sample_of(readings, reference));
  }
  const auto pooled = pooled_of(samples);
  for (std::size_t i = 0; i < entries.size(); ++i) {
    entries[i].samples[index_of(place)] = samples[i];
    if (samples[i].count == 0) continue;
    entries[i].points[index_of(place)] =
        point_of(samples[i], pooled, entries[i].candidate->resolution_k, 0.0, fixed->standard_k);
  }
}

}  // namespace pitwright::thermometer
