#include "payload/payload.h"

#include <cmath>
#include <limits>
#include <utility>

#include <fmt/format.h>

#include "logs/fields.h"
#include "logs/rows.h"
#include "logs/sample.h"
#include "logs/unit_words.h"
#include "logs/words.h"

namespace pitwright::feed {

using logs::ChannelUnit;

std::optional<double> stored_value(double value, ChannelUnit unit) {
  constexpr double hottest_c = 3000.0;
  constexpr double coldest_c = -273.15;
  constexpr double kmh_per_mps = 3.6;
  constexpr double kmh_per_mph = 1.609344;
  if (std::isnan(value)) return value;
  double stored = value;
  if (unit == ChannelUnit::fahrenheit) stored = (value - 32.0) / 1.8;
  if (unit == ChannelUnit::kelvin) stored = value + coldest_c;
  if (unit == ChannelUnit::mps) stored = value * kmh_per_mps;
  if (unit == ChannelUnit::mph) stored = value * kmh_per_mph;
  if (!std::isfinite(stored)) return std::nullopt;
  if (logs::is_temperature(unit) && (stored < coldest_c || stored > hottest_c)) return std::nullopt;
  return stored;
}

std::string filled(std::string_view name, std::string_view topic) {
  std::vector<std::string_view> levels;
  for (std::size_t from = 0; from <= topic.size();) {
    const auto end = std::min(topic.find('/', from), topic.size());
    levels.push_back(topic.substr(from, end - from));
    from = end + 1;
  }
  std::string out;
  for (std::size_t i = 0; i < name.size(); ++i) {
    const auto close = name[i] == '{' ? name.find('}', i) : name.npos;
    if (close == name.npos) {
      out += name[i];
      continue;
    }
    const auto inside = name.substr(i + 1, close - i - 1);
    const auto level = logs::number_of(inside, '.');
    if (inside == "topic") {
      out += topic;
    } else if (level && level->value >= 1 && level->value <= static_cast<double>(levels.size())) {
      out += levels[static_cast<std::size_t>(level->value) - 1];
    }
    i = close;
  }
  return out;
}

Result<PayloadReader> PayloadReader::make(const PayloadSpec& spec, std::string source,
                                          Troubles& troubles) {
  auto stamps = StampReader::make(spec.timezone);
  if (!stamps) return std::unexpected(stamps.error());
  return PayloadReader(spec, std::move(*stamps), std::move(source), troubles);
}

void PayloadReader::refuse(std::string_view kind, std::string_view what) {
  troubles_->once(fmt::format("{}: {}", source_, kind), fmt::format("{}: {}", source_, what));
}

void PayloadReader::add(std::string channel, double value, ChannelUnit unit, Moment at,
                        bool stamped, std::vector<Reading>& out) {
  constexpr std::size_t longest_name = 200;
  if (channel.empty() || channel.size() > longest_name) {
    refuse("name", fmt::format("'{}' is no name for a channel; left out", shown(channel)));
    return;
  }
  if (unit == ChannelUnit::unknown) unit = spec_.unit;
  const auto stored = stored_value(value, unit);
  if (!stored) {
    refuse("value of " + channel,
           fmt::format("{}: {} is nothing a thermometer shows; left out", shown(channel), value));
    return;
  }
  if (unit == ChannelUnit::unknown && !logs::names_no_temperature(channel)) {
    refuse("unit of " + channel,
           fmt::format("{}: nothing says its unit; taken as degC (key 'unit')", shown(channel)));
  }
  out.push_back({std::move(channel), at, *stored, stamped});
}

bool PayloadReader::number(std::string_view text, std::string_view topic, Moment arrival,
                           std::vector<Reading>& out) {
  const auto reading = logs::reading_of(text, '.');
  using Kind = logs::Reading::Kind;
  if (reading.kind == Kind::broken) return false;
  const bool missing = reading.kind == Kind::missing;
  if (missing && spec_.kind != PayloadKind::number && spec_.channel.empty()) return false;
  add(filled(spec_.channel.empty() ? "{topic}" : spec_.channel, topic),
      missing ? std::numeric_limits<double>::quiet_NaN() : reading.value, reading.unit, arrival,
      false, out);
  return true;
}

bool PayloadReader::cells(std::string_view line, Moment arrival, std::vector<Reading>& out) {
  if (spec_.columns.empty()) return false;
  const char delimiter = line.contains('\t') ? '\t' : line.contains(';') ? ';' : ',';
  const std::string record = std::string(line) + '\n';
  logs::Splitter splitter(delimiter);
  const auto cells = splitter.split(record);
  if (cells.size() < spec_.columns.size()) return false;
  Moment at = arrival;
  bool stamped = false;
  for (std::size_t i = 0; i < spec_.columns.size(); ++i) {
    if (spec_.columns[i] != "time") continue;
    const auto moment = stamps_.text(cells[i]);
    stamped = moment.has_value();
    if (moment)
      at = *moment;
    else
      refuse("time", fmt::format("'{}' is no time; the time of arrival is taken", shown(cells[i])));
  }
  for (std::size_t i = 0; i < spec_.columns.size(); ++i) {
    if (spec_.columns[i] == "time" || spec_.columns[i] == "-") continue;
    const auto reading =
        logs::reading_of(cells[i], delimiter == ';' && !cells[i].contains('.') ? ',' : '.');
    if (reading.kind == logs::Reading::Kind::broken) {
      refuse("cell of " + spec_.columns[i], logs::not_a_number(cells[i], logs::Encoding::utf8));
      continue;
    }
    const bool missing = reading.kind == logs::Reading::Kind::missing;
    add(spec_.columns[i], missing ? std::numeric_limits<double>::quiet_NaN() : reading.value,
        reading.unit, at, stamped, out);
  }
  return true;
}

std::size_t PayloadReader::read(std::string_view payload, std::string_view topic, Moment arrival,
                                std::vector<Reading>& out) {
  const auto before = out.size();
  if (payload.size() > longest_payload) {
    refuse("size", fmt::format("a payload of {} bytes on '{}' is longer than {} and was left out",
                               payload.size(), shown(topic), longest_payload));
    return 0;
  }
  const auto text = logs::trimmed(payload);
  const auto kind = spec_.kind;
  const bool any = kind == PayloadKind::automatic;
  if ((any || kind == PayloadKind::number) && number(text, topic, arrival, out)) {
    return out.size() - before;
  }
  if (kind != PayloadKind::csv && kind != PayloadKind::number && json(text, topic, arrival, out)) {
    return out.size() - before;
  }
  bool understood = kind != PayloadKind::number && !text.empty();
  for (std::size_t from = 0; understood && from < text.size();) {  // line by line
    const auto end = std::min(text.find('\n', from), text.size());
    const auto line = logs::trimmed(text.substr(from, end - from));
    from = end + 1;
    if (line.empty()) continue;
    const bool read = (kind != PayloadKind::csv && json(line, topic, arrival, out)) ||
                      ((any || kind == PayloadKind::csv) && cells(line, arrival, out));
    if (!read) {
      refuse("payload",
             fmt::format("'{}' on '{}' could not be read; left out", shown(line), shown(topic)));
    }
  }
  if (!understood) {
    refuse("payload",
           fmt::format("'{}' on '{}' could not be read; left out", shown(text), shown(topic)));
  }
  return out.size() - before;
}

}  // namespace pitwright::feed
