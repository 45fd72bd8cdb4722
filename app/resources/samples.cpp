#include <algorithm>
#include <charconv>
#include <cmath>
#include <map>

#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include "http/replies.h"
#include "resources/asking.h"
#include "resources/resources.h"

namespace pitwright::resources {

using http::json_reply;
using http::trouble;
namespace {

using Json = nlohmann::json;

/// Whether a channel is a temperature, as its last placement says.
bool is_heat(const Burn& burn, const std::string& channel) {
  for (const auto& probe : burn.probes)
    if (probe.channel == channel) return probe.role != Role::wind && probe.role != Role::drive;
  return true;
}

Json shown(double value, bool heat, Scale scale) {
  if (!std::isfinite(value)) return nullptr;
  const double in_scale = heat ? Temperature::from_celsius(value).in(scale) : value;
  return std::round(in_scale * 100.0) / 100.0;
}

double unix_seconds(db::Stamp first, db::Stamp last) {
  const auto middle = first.time_since_epoch() + (last - first) / 2;
  return std::round(std::chrono::duration<double>(middle).count() * 1000.0) / 1000.0;
}

}  // namespace

wire::Answer get_samples(const Asked& asked) {
  const auto standing = asked_burn(asked);
  if (!standing) return trouble(standing.error());
  const auto scale = asked_scale(asked, standing->line.scale);
  const auto from = asked_stamp(asked, "from");
  const auto to = asked_stamp(asked, "to");
  const auto buckets = asked_number(asked, "buckets");
  if (!scale) return trouble(scale.error());
  if (!from) return trouble(from.error());
  if (!to) return trouble(to.error());
  if (!buckets) return trouble(buckets.error());
  const double count = buckets->value_or(600.0);
  if (count < 1.0 || count > 4000.0) return trouble(400, "buckets: expected 1 to 4000");
  db::Wanted wanted{{}, *from, *to, 0};
  const auto [first, last] = asked.request.query.equal_range("channel");
  std::transform(first, last, std::back_inserter(wanted.channels),
                 [](const auto& one) { return one.second; });
  const auto thin = asked.desk.store.thinned(standing->line.id, wanted, static_cast<int>(count));
  if (!thin) return trouble(thin.error());
  Json channels = Json::array();
  for (const auto& series : *thin) {
    const bool heat = is_heat(*standing->burn, series.channel);
    Json t = Json::array();
    Json low = Json::array();
    Json high = Json::array();
    for (const auto& bucket : series.buckets) {
      t.push_back(unix_seconds(bucket.first, bucket.last));
      low.push_back(shown(bucket.low, heat, *scale));
      high.push_back(shown(bucket.high, heat, *scale));
    }
    channels.push_back({{"channel", series.channel},
                        {"t", std::move(t)},
                        {"low", std::move(low)},
                        {"high", std::move(high)}});
  }
  const Json all = {{"unit", *scale == Scale::fahrenheit ? "F" : "C"},
                    {"channels", std::move(channels)}};
  return json_reply(all.dump());
}

}  // namespace pitwright::resources
