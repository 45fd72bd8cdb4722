#include <cstdio>
#include <vector>

#include <fmt/core.h>

#include "burn_list/burn_list.h"

// Prints what `pitwright burns --json` says of stores, each document ended by a NUL.
int main() {
  using namespace pitwright;
  const db::Stamp noon =
      std::chrono::sys_days(std::chrono::year{2026} / 5 / 2) + std::chrono::hours(12);
  std::vector<db::BurnLine> lines(3);
  lines[0].id = db::BurnId{3};
  lines[0].name = "live";
  lines[0].title = "Three positions\n";
  lines[0].timezone = "America/Chicago";
  lines[0].first = noon;
  lines[0].last = noon + std::chrono::hours(2);
  lines[0].samples = 1000;
  lines[0].channels = 8;
  lines[1].id = db::BurnId{2};
  lines[1].name = "closed";
  lines[1].state = db::BurnState::closed;
  lines[1].scale = Scale::celsius;
  lines[1].closed = noon;
  lines[2].id = db::BurnId{1};
  lines[2].name = "kept";
  lines[2].state = db::BurnState::kept;
  lines[2].on_world_clock = false;
  lines[2].first = db::Stamp{};
  lines[2].last = db::Stamp{} + std::chrono::minutes(35);
  lines[2].files = 3;
  lines[2].file_bytes = 53545;
  lines[2].content = std::string(64, 'a');
  fmt::print("{}", burn_list::json_of(lines, "/data/pitwright.db"));
  std::putchar('\0');
  fmt::print("{}", burn_list::json_of({}, "burns.db"));
  std::putchar('\0');
  return 0;
}
