#include <algorithm>
#include <cmath>
#include <filesystem>

#include <gmock/gmock.h>

#include "burns/open_burn.h"
#include "call/call.h"
#include "db/temporary_folder_test.h"
#include "keeping/burn_of.h"
#include "keeping/pack.h"
#include "numeric/random.h"
#include "report/call_json.h"
#include "report/call_text.h"

// The call of a burn that arrived live is the call of the same burn from its directory, to the
// last digit.

namespace pitwright {
namespace {

namespace fs = std::filesystem;

constexpr Instant noon =
    std::chrono::sys_days(std::chrono::year{2026} / 5 / 2) + std::chrono::hours(12);

db::Stamp stamp_of(const Burn& burn, double seconds) {
  return db::Stamp(*burn.clock.zero) + std::chrono::microseconds(std::llround(seconds * 1e6));
}

std::optional<db::Stamp> stamp_of(const Burn& burn, const std::optional<double>& seconds) {
  return seconds ? std::optional(stamp_of(burn, *seconds)) : std::nullopt;
}

db::NewBurn head_of(const Burn& burn) {
  db::NewBurn head;
  head.name = "live";
  head.title = burn.title;
  head.scale = burn.scale;
  head.matters = burn.matters;
  head.timezone = burn.clock.timezone;
  head.pit = burn.pit;
  head.lit = *burn.clock.zero;
  return head;
}

/// What people and phones would have told while it burned.
std::vector<db::Record> records_of(const Burn& burn) {
  std::vector<db::Record> records;
  const auto tell = [&](decltype(db::Record::what) what) {
    db::Record record;
    record.id = "r" + std::to_string(records.size());
    record.what = std::move(what);
    records.push_back(std::move(record));
  };
  for (const auto& piece : burn.pieces) {
    tell(db::Food{piece.name, piece.cut, piece.mass_kg, piece.intact, stamp_of(burn, piece.on_s),
                  stamp_of(burn, piece.off_s), piece.rule, piece.by, piece.action});
  }
  for (const auto& stint : burn.stints) {
    tell(db::Turn{stint.setting, stint.adjustments, stamp_of(burn, stint.from_s),
                  stamp_of(burn, stint.to_s)});
  }
  for (const auto& probe : burn.probes) {
    db::Placement place{.channel = probe.channel, .role = probe.role, .spot = probe.spot};
    place.grate = probe.grate;
    place.piece = probe.piece;
    place.x_m = probe.x_m;
    place.y_m = probe.y_m;
    place.z_m = probe.z_m;
    place.correction_k = probe.correction.kelvins();
    if (probe.uncertainty) place.uncertainty_k = probe.uncertainty->kelvins();
    place.checked = probe.checked;
    place.from = stamp_of(burn, probe.readings.seconds.front());
    tell(place);
  }
  for (const auto& event : burn.events) {
    tell(db::Mark{event.kind, stamp_of(burn, event.at_s), stamp_of(burn, event.until_s),
                  event.channel, event.piece, event.text});
  }
  return records;
}

/// Every reading in the order of its moment; of each hundred some come late.
std::vector<db::Sample> samples_of(const Burn& burn) {
  std::vector<db::Sample> samples;
  for (const auto& probe : burn.probes) {
    for (std::size_t i = 0; i < probe.readings.seconds.size(); ++i) {
      samples.push_back(
          {probe.channel, stamp_of(burn, probe.readings.seconds[i]), probe.readings.values[i]});
    }
  }
  std::ranges::stable_sort(samples, {}, &db::Sample::at);
  numeric::Random random(3);
  for (std::size_t i = 0; i + 200 < samples.size(); ++i) {
    if (random.below(50) == 0) std::swap(samples[i], samples[i + 1 + random.below(199)]);
  }
  return samples;
}

/// The burn told to a store as it burned, and read back from the file.
Burn as_told_live(const Burn& burn, const std::string& path) {
  {
    const auto store = db::open_store(path).value();
    const auto id = store->light(head_of(burn)).value();
    const auto samples = samples_of(burn);
    const auto batch = samples.size() / 40 + 1;
    std::int64_t stored = 0;
    for (std::size_t from = 0; from < samples.size(); from += batch) {
      const auto part = std::span(samples).subspan(from, std::min(batch, samples.size() - from));
      stored += store->append(id, part).value().stored;
    }
    EXPECT_EQ(stored, std::ssize(samples));
    EXPECT_TRUE(store->tell(id, records_of(burn)));
    EXPECT_TRUE(store->close(id, stamp_of(burn, burn.last_s())));
  }
  const auto store = db::open_store(path).value();
  return keeping::burn_of(*store, store->find("live").value().id).value().burn;
}

std::string page_of(const Burn& burn, const call::Options& options = {}) {
  const auto report = call::make_call(burn, options);
  if (!report) return report.error().what;
  const report::CallView view{*report, burn, burn.scale};
  return report::call_json(view) + report::call_text(view, true);
}

TEST(LiveCall, IsTheCallOfTheDirectory) {
  int count = 0;
  for (const auto& entry : fs::directory_iterator(PITWRIGHT_SOURCE_DIR "/examples")) {
    if (!fs::exists(entry.path() / "burn.toml")) continue;
    SCOPED_TRACE(entry.path().string());
    ++count;
    db::TemporaryFolder folder;
    auto batch = burns::open_burn(entry.path()).value().burn;
    if (!batch.clock.zero) batch.clock.zero = noon;  // a live burn always has the world's clock
    const auto live = as_told_live(batch, folder.file("s.db"));
    EXPECT_EQ(page_of(live), page_of(batch));
    if (entry.path().filename() != "hopper-tray") continue;
    const double half_way = (batch.first_s() + batch.last_s()) / 2.0;
    EXPECT_EQ(page_of(live, {.as_known_at_s = half_way}),
              page_of(batch, {.as_known_at_s = half_way}));
  }
  EXPECT_GE(count, 7);
}

TEST(KeptCall, IsTheCallOfTheDirectory) {
  db::TemporaryFolder folder;
  const auto store = db::open_store(folder.file("s.db")).value();
  for (const auto* name : {"hopper-tray", "house-fire"}) {
    const auto directory = fs::path(PITWRIGHT_SOURCE_DIR "/examples") / name;
    const auto kept = store->keep(keeping::pack(directory).value().burn).value();
    const auto from_store = keeping::burn_of(*store, kept.id).value();
    EXPECT_EQ(page_of(from_store.burn), page_of(burns::open_burn(directory).value().burn));
  }
}

}  // namespace
}  // namespace pitwright
