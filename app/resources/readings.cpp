#include <cmath>

#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include "access/gate.h"
#include "http/json_text.h"
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

bool is_heat(const std::map<std::string, Role>& roles, const std::string& channel) {
  const auto role = roles.find(channel);
  return role == roles.end() || (role->second != Role::wind && role->second != Role::drive);
}

/// Roles of the channels of a burn in the store. Fails: as the store does.
Result<std::map<std::string, Role>> roles_in(db::Store& store, db::BurnId burn) {
  const auto records = store.records(burn);
  if (!records) return std::unexpected(records.error());
  return roles_of(*records);
}

/// The Readings of the contract. Fails: bad_input, naming the entry; then nothing is kept.
Result<Samples> read_json(const Asked& asked, const std::map<std::string, Role>& roles) {
  const auto json = http::parse_json(asked.request.body);
  const auto found = json.is_object() ? json.find("readings") : json.end();
  if (!json.is_object() || found == json.end() || !found->is_array())
    return fail(ErrorKind::bad_input,
                "expected {{\"readings\": [{{\"channel\": …, \"at\": …, \"value\": …}}, …], "
                "\"unit\": \"F\"}}");
  const auto unit = json.find("unit");
  if (unit != json.end() && *unit != "F" && *unit != "C")
    return fail(ErrorKind::bad_input, "unit: expected F or C");
  const bool is_celsius = unit != json.end() && *unit == "C";
  const auto scale = is_celsius ? logs::ChannelUnit::celsius : logs::ChannelUnit::fahrenheit;
  Samples samples;
  samples.reserve(found->size());
  for (const auto& one : *found) {
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
    if (value.is_null()) {
      samples.push_back({channel, *at, std::nan("")});
      continue;
    }
    const auto number = value.get<double>();
    const auto stored = is_heat(roles, channel) ? feed::stored_value(number, scale) : number;
    if (!stored)
      return fail(ErrorKind::bad_input, "{}: {} is nothing a thermometer shows", where, number);
    samples.push_back({channel, *at, *stored});
  }
  return samples;
}

/// Lines of JSON or of cells, as feeds send them. Fails: bad_input with the first trouble.
Result<Samples> read_lines(const Asked& asked, feed::PayloadKind kind,
                           const std::map<std::string, Role>& roles) {
  feed::PayloadSpec spec;
  spec.kind = kind;
  if (const auto columns = wire::query_value(asked.request, "columns"))
    for (std::size_t at = 0; at <= columns->size();) {
      const auto comma = std::min(columns->find(',', at), columns->size());
      spec.columns.push_back(columns->substr(at, comma - at));
      at = comma + 1;
    }
  const auto scale = asked_scale(asked, Scale::fahrenheit);
  if (!scale) return std::unexpected(scale.error());
  spec.unit = *scale == Scale::celsius ? logs::ChannelUnit::celsius : logs::ChannelUnit::fahrenheit;
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
  for (auto& one : readings) {
    // The reader took every bare number for a temperature; wind and drive are none.
    const bool turn_back = *scale == Scale::fahrenheit && !is_heat(roles, one.channel);
    const double value = turn_back ? Temperature::from_celsius(one.value).fahrenheit() : one.value;
    samples.push_back({std::move(one.channel), one.at, value});
  }
  return samples;
}

Result<Samples> read_samples(const Asked& asked, db::BurnId burn) {
  const auto roles = roles_in(asked.desk.store, burn);
  if (!roles) return std::unexpected(roles.error());
  const auto type = wire::header_value(asked.request, "content-type");
  if (type.starts_with("application/json")) return read_json(asked, *roles);
  if (type.starts_with("application/x-ndjson"))
    return read_lines(asked, feed::PayloadKind::json, *roles);
  if (type.starts_with("text/csv")) return read_lines(asked, feed::PayloadKind::csv, *roles);
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
