#pragma once

#include <string>

#include "db/store.h"

namespace pitwright::db {

inline constexpr Stamp noon =
    std::chrono::sys_days(std::chrono::year{2026} / 5 / 2) + std::chrono::hours(12);

inline Stamp after_s(double seconds) {
  return noon + std::chrono::microseconds(static_cast<std::int64_t>(seconds * 1e6));
}

inline NewBurn burn_named(std::string name) {
  NewBurn burn;
  burn.name = std::move(name);
  burn.title = "Three positions";
  burn.timezone = "America/Chicago";
  burn.lit = noon;
  burn.pit.name = "Barrel";
  return burn;
}

inline Record record_of(std::string id, decltype(Record::what) what, std::string corrects = "") {
  Record record;
  record.id = std::move(id);
  record.corrects = std::move(corrects);
  record.by = "jd";
  record.written = noon;
  record.what = std::move(what);
  return record;
}

}  // namespace pitwright::db
