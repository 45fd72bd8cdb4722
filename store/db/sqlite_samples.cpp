#include <algorithm>
#include <cmath>
#include <limits>

#include "db/sqlite_store.h"

namespace pitwright::db {
namespace {

// The years a stamp may lie in: a logger whose clock was never set says 1970, none says 2200.
constexpr Stamp first_stamp = std::chrono::sys_days(std::chrono::year{1900} / 1 / 1);
constexpr Stamp end_of_stamps = std::chrono::sys_days(std::chrono::year{2200} / 1 / 1);

void check(const Sample& sample) {
  if (sample.channel.empty()) {
    refuse(ErrorKind::bad_input, "a sample needs the name of its channel");
  }
  if (std::isinf(sample.value)) {
    refuse(ErrorKind::bad_input, "channel '{}': an infinite value cannot be kept", sample.channel);
  }
  if (sample.at < first_stamp || sample.at >= end_of_stamps) {
    refuse(ErrorKind::bad_input,
           "channel '{}': a sample's stamp lies outside the years 1900 to 2199", sample.channel);
  }
}

bool is_same(double a, double b) {
  return a == b || (std::isnan(a) && std::isnan(b));
}

}  // namespace

SqliteStore::Channels SqliteStore::channels_of(BurnId burn) {
  Channels channels;
  auto ask = connection_.prepare(
      "SELECT name, number, samples, first_us, last_us FROM channel WHERE burn = ?");
  ask.with(number_of(burn));
  while (ask.step()) {
    channels[ask.text(0)] = {ask.integer(1), ask.integer(2), ask.integer(3), ask.integer(4)};
  }
  return channels;
}

void SqliteStore::write_channels(BurnId burn, const Channels& channels) {
  auto insert = connection_.prepare(
      "INSERT INTO channel (burn, number, name, samples, first_us, last_us)"
      " VALUES (?, ?, ?, ?, ?, ?)");
  auto update = connection_.prepare(
      "UPDATE channel SET samples = ?, first_us = ?, last_us = ? WHERE burn = ? AND number = ?");
  for (const auto& [name, c] : channels) {
    if (c.is_new && c.samples > 0) {
      insert.with(number_of(burn), c.number, name, c.samples, c.first_us, c.last_us).run();
    } else if (c.is_changed) {
      update.with(c.samples, c.first_us, c.last_us, number_of(burn), c.number).run();
    }
  }
}

Appended SqliteStore::insert_samples(BurnId burn, std::span<const Sample> samples) {
  Appended became;
  const auto sequence = next_sequence();
  auto channels = channels_of(burn);
  auto& insert = connection_.cached(
      "INSERT INTO sample (burn, channel, at_us, value, arrived) VALUES (?, ?, ?, ?, ?)"
      " ON CONFLICT DO NOTHING");
  auto& look =
      connection_.cached("SELECT value FROM sample WHERE burn = ? AND channel = ? AND at_us = ?");
  std::int64_t first = std::numeric_limits<std::int64_t>::max();
  std::int64_t last = std::numeric_limits<std::int64_t>::min();
  for (const auto& sample : samples) {
    check(sample);
    auto [found, is_new] = channels.try_emplace(sample.channel);
    auto& channel = found->second;
    if (is_new) channel = {std::ssize(channels), 0, 0, 0, true, false};
    const auto at = us_of(sample.at);
    insert.with(number_of(burn), channel.number, at, sample.value, sequence).run();
    if (connection_.changes() == 0) {
      look.with(number_of(burn), channel.number, at).step();
      ++(is_same(look.real(0), sample.value) ? became.duplicate : became.differing);
      look.reset();
      continue;
    }
    ++became.stored;
    if (channel.samples > 0 && at < channel.last_us) ++became.late;
    channel.first_us = channel.samples == 0 ? at : std::min(channel.first_us, at);
    channel.last_us = channel.samples == 0 ? at : std::max(channel.last_us, at);
    ++channel.samples;
    channel.is_changed = true;
    first = std::min(first, at);
    last = std::max(last, at);
  }
  if (became.stored == 0) return became;
  became.sequence = sequence;
  insert_arrival(sequence, burn, first, last);
  write_channels(burn, channels);
  return became;
}

Result<Appended> SqliteStore::append(BurnId burn, std::span<const Sample> samples) {
  return answer([&] {
    Transaction work(connection_);
    if (state_of(burn) == BurnState::kept) {
      refuse(ErrorKind::conflict, "burn number {} was kept from its files; it takes no samples",
             number_of(burn));
    }
    const auto became = insert_samples(burn, samples);
    work.commit();
    return became;
  });
}

SqliteStore::Stretch SqliteStore::stretch_of(BurnId burn, const Wanted& wanted) {
  state_of(burn);
  Stretch stretch;
  stretch.from_us = us_of(std::max(wanted.from.value_or(first_stamp), first_stamp));
  stretch.until_us = us_of(std::min(wanted.until.value_or(end_of_stamps), end_of_stamps));
  if (wanted.after > 0) {  // what arrived since then spans a short time, except for what came late
    auto ask = connection_.prepare(
        "SELECT min(first_us), max(last_us) FROM arrival WHERE burn = ? AND sequence > ?");
    ask.with(number_of(burn), wanted.after).step();
    if (ask.is_null(0)) return stretch;
    stretch.from_us = std::max(stretch.from_us, ask.integer(0));
    stretch.until_us = std::min(stretch.until_us, ask.integer(1) + 1);
  }
  for (const auto& [name, channel] : channels_of(burn)) {
    const bool asked = wanted.channels.empty() ||
                       std::ranges::find(wanted.channels, name) != wanted.channels.end();
    if (asked && channel.first_us < stretch.until_us && channel.last_us >= stretch.from_us) {
      stretch.channels.emplace_back(name, channel);
    }
  }
  return stretch;
}

constexpr std::string_view sample_query =
    "SELECT at_us, value FROM sample WHERE burn = ? AND channel = ? AND at_us >= ? AND at_us < ?"
    " AND arrived > ? ORDER BY at_us";

Result<std::vector<Series>> SqliteStore::samples(BurnId burn, const Wanted& wanted) {
  return answer([&] {
    Transaction look(connection_, Transaction::For::reading);
    const auto stretch = stretch_of(burn, wanted);
    std::vector<Series> all;
    auto ask = connection_.prepare(sample_query);
    for (const auto& [name, channel] : stretch.channels) {
      Series series{name, {}, {}};
      ask.with(number_of(burn), channel.number, stretch.from_us, stretch.until_us, wanted.after);
      while (ask.step()) {
        series.at.push_back(stamp_of(ask.integer(0)));
        series.values.push_back(ask.real(1));
      }
      // Damage inside a page can look like the end of a series to SQLite; the count tells.
      const bool is_whole = wanted.after == 0 && stretch.from_us <= channel.first_us &&
                            stretch.until_us > channel.last_us;
      if (is_whole && std::ssize(series.at) != channel.samples) {
        connection_.damaged(fmt::format("channel '{}' has {} samples of {}", name, series.at.size(),
                                        channel.samples));
      }
      if (!series.at.empty()) all.push_back(std::move(series));
    }
    return all;
  });
}

Result<std::vector<Sample>> SqliteStore::latest(BurnId burn) {
  return answer([&] {
    Transaction look(connection_, Transaction::For::reading);
    state_of(burn);
    auto ask = connection_.prepare(
        "SELECT c.name, s.at_us, s.value FROM channel c JOIN sample s"
        " ON s.burn = c.burn AND s.channel = c.number AND s.at_us = c.last_us"
        " WHERE c.burn = ? ORDER BY c.name");
    ask.with(number_of(burn));
    std::vector<Sample> all;
    while (ask.step()) all.push_back({ask.text(0), stamp_of(ask.integer(1)), ask.real(2)});
    return all;
  });
}

Result<std::vector<ThinSeries>> SqliteStore::thinned(BurnId burn, const Wanted& wanted,
                                                     int buckets) {
  return answer([&] {
    if (buckets < 1) refuse(ErrorKind::bad_input, "a drawing needs at least one bucket");
    Transaction look(connection_, Transaction::For::reading);
    const auto stretch = stretch_of(burn, wanted);
    std::vector<ThinSeries> all;
    if (stretch.channels.empty()) return all;
    // Where nothing was asked for, the drawing runs from the first to the last sample.
    auto from = std::numeric_limits<std::int64_t>::max();
    auto until = std::numeric_limits<std::int64_t>::min();
    for (const auto& [name, channel] : stretch.channels) {
      from = std::min(from, channel.first_us);
      until = std::max(until, channel.last_us + 1);
    }
    from = wanted.from ? stretch.from_us : std::max(from, stretch.from_us);
    until = wanted.until ? stretch.until_us : std::min(until, stretch.until_us);
    if (until <= from) return all;
    const auto width = (until - from + buckets - 1) / buckets;
    auto ask = connection_.prepare(sample_query);
    for (const auto& [name, channel] : stretch.channels) {
      ThinSeries thin{name, {}};
      std::int64_t current = -1;
      ask.with(number_of(burn), channel.number, from, until, wanted.after);
      while (ask.step()) {
        if (ask.is_null(1)) continue;
        const auto at = ask.integer(0);
        const double value = ask.real(1);
        if ((at - from) / width != current) {
          current = (at - from) / width;
          thin.buckets.push_back({stamp_of(at), stamp_of(at), value, value, value, 0});
        }
        auto& bucket = thin.buckets.back();
        bucket.last = stamp_of(at);
        bucket.low = std::min(bucket.low, value);
        bucket.high = std::max(bucket.high, value);
        ++bucket.samples;
        bucket.mean += (value - bucket.mean) / static_cast<double>(bucket.samples);
      }
      if (!thin.buckets.empty()) all.push_back(std::move(thin));
    }
    return all;
  });
}

}  // namespace pitwright::db
