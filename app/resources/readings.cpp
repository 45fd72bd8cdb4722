#include <cmath>

#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include "access/gate.h"
#include "http/replies.h"
#include "http/stamps.h"
#include "payload/payload.h"
#include "resources/asking.h"
#include "resources/resources.h"

namespace pitwright::resources {

using http::json_reply;
using http::parse_stamp;
using http::trouble;
namespace {

using Json = nlohmann::json;
using Samples = std::vector<db::Sample>;

/// Roles of a burn's channels, as last placed: wind and drive are no temperatures.
std::map<std::string, Role> roles_of(const std::vector<db::Record>& records) {
  std::map<std::string, Role> roles;
  for (const auto& record : db::standing(records))
    if (const auto* placement = std::get_if<db::Placement>(&record.what))
      roles[placement->channel] = placement->role;
  return roles;
}

/// The Readings of the contract. Fails: bad_input, naming the entry; then nothing is kept.
Result<Samples> read_json(const Asked& asked, db::BurnId burn) {
  const auto json = Json::parse(asked.request.body, nullptr, false);
  if (!json.is_object() || !json.contains("readings") || !json["readings"].is_array())
    return fail(ErrorKind::bad_input,
                "expected {{\"readings\": [{{\"channel\": …, \"at\": …, \"value\": …}}, …], "
                "\"unit\": \"F\"}}");
  const auto unit = json.value("unit", Json("F"));
  if (unit != "F" && unit != "C") return fail(ErrorKind::bad_input, "unit: expected F or C");
  const auto scale = unit == "F" ? Scale::fahrenheit : Scale::celsius;
  const auto records = asked.desk.store.records(burn);
  if (!records) return std::unexpected(records.error());
  const auto roles = roles_of(*records);
  Samples samples;
  samples.reserve(json["readings"].size());
  for (const auto& one : json["readings"]) {
    const auto where = fmt::format("readings[{}]", samples.size());
    if (!one.is_object() || !one.contains("channel") || !one["channel"].is_string() ||
        !one.contains("at") || !one["at"].is_string() || !one.contains("value"))
      return fail(ErrorKind::bad_input, "{}: expected channel, at and value", where);
    const auto at = parse_stamp(one["at"].get_ref<const std::string&>());
    if (!at) return fail(ErrorKind::bad_input, "{}: at: {}", where, at.error().what);
    const auto& value = one["value"];
    if (!value.is_number() && !value.is_null())
      return fail(ErrorKind::bad_input,
                  "{}: value: expected a number, or null where the sensor said \"missing\"", where);
    const auto channel = one["channel"].get<std::string>();
    const auto role = roles.find(channel);
    const bool heat =
        role == roles.end() || (role->second != Role::wind && role->second != Role::drive);
    const double number = value.is_null() ? std::nan("") : value.get<double>();
    samples.push_back({channel, *at, heat ? Temperature::from(number, scale).celsius() : number});
  }
  return samples;
}

/// Lines of JSON or of cells, as feeds send them. Fails: bad_input with the first trouble.
Result<Samples> read_lines(const Asked& asked, feed::PayloadKind kind) {
  feed::PayloadSpec spec;
  spec.kind = kind;
  if (const auto columns = wire::query_value(asked.request, "columns"))
    for (std::size_t at = 0; at <= columns->size();) {
      const auto comma = std::min(columns->find(',', at), columns->size());
      spec.columns.push_back(columns->substr(at, comma - at));
      at = comma + 1;
    }
  if (const auto unit = wire::query_value(asked.request, "unit"))
    spec.unit = *unit == "C" ? logs::ChannelUnit::celsius : logs::ChannelUnit::fahrenheit;
  std::string first;
  feed::Troubles troubles([&](const std::string& text) {
    if (first.empty()) first = text;
  });
  auto reader = feed::PayloadReader::make(spec, "body", troubles);
  if (!reader) return std::unexpected(reader.error());
  std::vector<feed::Reading> readings;
  reader->read(asked.request.body, "", asked.desk.now(), readings);
  if (!first.empty()) return fail(ErrorKind::bad_input, "{}", first);
  Samples samples;
  for (auto& one : readings) samples.push_back({std::move(one.channel), one.at, one.value});
  return samples;
}

Result<Samples> read_samples(const Asked& asked, db::BurnId burn) {
  const auto type = wire::header_value(asked.request, "content-type");
  if (type.starts_with("application/json")) return read_json(asked, burn);
  if (type.starts_with("application/x-ndjson")) return read_lines(asked, feed::PayloadKind::json);
  if (type.starts_with("text/csv")) return read_lines(asked, feed::PayloadKind::csv);
  return fail(ErrorKind::bad_input,
              "Content-Type: expected application/json, application/x-ndjson or text/csv");
}

}  // namespace

wire::Answer post_readings(const Asked& asked) {
  const auto line = asked.desk.store.find(asked.names.at("burn"));
  if (!line) return trouble(line.error());
  const auto samples = read_samples(asked, line->id);
  if (!samples) return trouble(samples.error());
  const auto kept = asked.desk.store.append(line->id, *samples);
  if (!kept) return trouble(kept.error());
  return json_reply(fmt::format("{{\"stored\":{},\"repeated\":{},\"late\":{}}}", kept->stored,
                                kept->duplicate + kept->differing, kept->late));
}

}  // namespace pitwright::resources
