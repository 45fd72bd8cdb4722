#include "running/into_store.h"

#include <cstdint>
#include <string>
#include <vector>

#include <fmt/format.h>

namespace pitwright::feed {
namespace {

void add(Taken& sum, const db::Appended& appended) {
  sum.stored += appended.stored;
  sum.again += appended.duplicate;
  sum.differing += appended.differing;
  sum.late += appended.late;
}

/// One by one: what is bad by itself must not keep the good from being stored.
Result<Taken> singly(db::Store& store, db::BurnId burn, std::span<const db::Sample> samples,
                     Troubles& troubles) {
  Taken taken;
  for (const auto& sample : samples) {
    const auto appended = store.append(burn, {&sample, 1});
    if (appended) {
      add(taken, *appended);
    } else if (appended.error().kind == ErrorKind::bad_input) {
      troubles.once("sample of " + sample.channel,
                    fmt::format("{}; left out", appended.error().what));
    } else {
      return std::unexpected(appended.error());
    }
  }
  return taken;
}

/// The same remark always has the same id, so that telling it twice is harmless.
db::Record record_of(const std::string& source, const Remark& remark) {
  std::uint64_t hash = 0xcbf29ce484222325U;  // FNV-1a, from memory
  for (const char c : source + remark.text) {
    hash = (hash ^ static_cast<unsigned char>(c)) * 0x100000001b3U;
  }
  db::Record record;
  record.id = fmt::format("feed-{:016x}-{}", hash, remark.written.time_since_epoch().count());
  record.by = source;
  record.written = remark.written;
  record.what = db::Mark{.kind = EventKind::note,
                         .at = remark.at,
                         .until = {},
                         .channel = "",
                         .piece = "",
                         .text = remark.text};
  return record;
}

}  // namespace

Result<Taken> into_store(db::Store& store, db::BurnId burn, std::span<const Delivery> deliveries,
                         Troubles& troubles) {
  std::vector<db::Sample> samples;
  std::vector<db::Record> records;
  for (const auto& delivery : deliveries) {
    for (const auto& reading : delivery.readings) {
      samples.push_back({reading.channel, reading.at, reading.value});
    }
    for (const auto& remark : delivery.remarks) {
      records.push_back(record_of(delivery.source, remark));
    }
  }
  Taken taken;
  if (!samples.empty()) {
    const auto appended = store.append(burn, samples);
    if (appended) {
      add(taken, *appended);
    } else if (appended.error().kind == ErrorKind::bad_input) {
      const auto some = singly(store, burn, samples, troubles);
      if (!some) return some;
      taken = *some;
    } else {
      return std::unexpected(appended.error());
    }
  }
  if (!records.empty()) {
    if (const auto told = store.tell(burn, records); !told) return std::unexpected(told.error());
  }
  return taken;
}

}  // namespace pitwright::feed
