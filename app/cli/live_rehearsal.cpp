#include "cli/live_rehearsal.h"

#include <algorithm>
#include <chrono>
#include <cmath>
#include <map>
#include <thread>
#include <utility>
#include <vector>

#include <fmt/core.h>
#include <nlohmann/json.hpp>

#include "feeds/feed_document.h"
#include "mqtt/publisher.h"
#include "readings/clock_watch.h"

namespace pitwright::cli {
namespace {

using std::chrono::steady_clock;
using std::chrono::system_clock;

struct Address {
  feed::BrokerPlace broker;
  std::string topic;
};

Result<Address> address_of(const std::string& where) {
  const auto host = where.find("://");
  const auto slash = host == where.npos ? where.npos : where.find('/', host + 3);
  if (slash == where.npos || slash + 1 == where.size()) {
    return fail(ErrorKind::bad_input, "--mqtt is written mqtt://127.0.0.1:1883/topic, not \"{}\"",
                where);
  }
  const auto broker = feed::parse_broker(where.substr(0, slash));
  if (!broker) return fail(ErrorKind::bad_input, "--mqtt: {}", broker.error().what);
  const auto topic = where.substr(slash + 1);
  if (topic.find_first_of("+#") != topic.npos) {
    return fail(ErrorKind::bad_input, "--mqtt: a topic that is published to has no '+' or '#'");
  }
  return Address{*broker, topic};
}

/// One row of one logger.
struct Row {
  double true_s;
  const rehearse::LoggerRecord* log;
  std::size_t row;
};

std::vector<Row> rows_of(const rehearse::RehearsedBurn& made) {
  std::vector<Row> rows;
  for (const auto& log : made.logs) {
    for (std::size_t i = 0; i < log.true_s.size(); ++i) rows.push_back({log.true_s[i], &log, i});
  }
  std::ranges::stable_sort(rows, {}, &Row::true_s);
  return rows;
}

/// Channels that two loggers share carry the logger's name before theirs.
std::map<std::string, int> shared_names(const rehearse::RehearsedBurn& made) {
  std::map<std::string, int> count;
  for (const auto& log : made.logs) {
    for (const auto& one : log.logger.thermometers) ++count[one.channel];
  }
  return count;
}

std::string_view unit_of(const rehearse::LoggerRecord& log, Role role) {
  if (role == Role::wind) return "km/h";
  if (role == Role::drive) return "%";
  return log.logger.scale == Scale::celsius ? "C" : "F";
}

std::string row_json(const Row& row, feed::Moment zero, const std::map<std::string, int>& names) {
  const auto& log = *row.log;
  const auto stamp = zero + std::chrono::milliseconds(std::llround(log.stamp_s[row.row] * 1000.0));
  nlohmann::json readings = nlohmann::json::array();
  for (std::size_t column = 0; column < log.cells.size(); ++column) {
    const auto& one = log.logger.thermometers[column];
    const double value = log.cells[column][row.row];
    nlohmann::json reading;
    reading["channel"] =
        names.at(one.channel) > 1 ? log.logger.name + ":" + one.channel : one.channel;
    reading["value"] = std::isnan(value) ? nlohmann::json() : nlohmann::json(value);
    reading["unit"] = unit_of(log, one.role);
    readings.push_back(std::move(reading));
  }
  return nlohmann::json{{"time", feed::utc_text(stamp)}, {"readings", std::move(readings)}}.dump();
}

}  // namespace

Result<void> play_live(const rehearse::RehearsedBurn& made, const LivePlay& play) {
  constexpr std::chrono::seconds patience{30};
  if (!(play.speed > 0.0) || play.speed > 1e6) {
    return fail(ErrorKind::bad_input, "--speed is above 0 and at most 1000000");
  }
  const auto address = address_of(play.where);
  if (!address) return std::unexpected(address.error());
  const auto rows = rows_of(made);
  if (rows.empty()) return fail(ErrorKind::bad_input, "this burn has no readings to play");
  const auto publisher = feed::Publisher::connect(address->broker);
  if (!publisher) return std::unexpected(publisher.error());
  const double first_s = rows.front().true_s;
  const double length_s = rows.back().true_s - first_s;
  const auto zero =
      std::chrono::floor<std::chrono::seconds>(system_clock::now()) -
      std::chrono::seconds(std::llround(length_s * (1.0 - 1.0 / play.speed) + first_s));
  const auto names = shared_names(made);
  const auto start = steady_clock::now();
  fmt::print("{:.0f} min in {:.1f} min to {}, topic {}\n", length_s / 60,
             length_s / 60 / play.speed, address->broker.host, address->topic);
  std::fflush(stdout);
  for (const auto& row : rows) {
    const auto due = start + std::chrono::duration_cast<steady_clock::duration>(
                                 Seconds((row.true_s - first_s) / play.speed));
    if (due > steady_clock::now()) std::this_thread::sleep_until(due);
    const auto sent = (*publisher)->publish(address->topic, row_json(row, zero, names));
    if (!sent) return sent;
  }
  const auto finished = (*publisher)->finish(patience);
  if (finished) fmt::print("{} messages, all acknowledged\n", rows.size());
  return finished;
}

}  // namespace pitwright::cli
