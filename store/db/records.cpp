#include "db/records.h"

#include <algorithm>
#include <set>
#include <string_view>

namespace pitwright::db {

std::vector<Record> standing(std::span<const Record> all) {
  // From the last to the first: whether a record is in force depends on later ones only.
  std::set<std::string_view> out;
  std::vector<Record> in_force;
  for (auto record = all.rbegin(); record != all.rend(); ++record) {
    if (out.contains(record->id)) continue;
    if (const auto* undo = std::get_if<Undo>(&record->what)) {
      out.insert(undo->of);
      continue;
    }
    if (!record->corrects.empty()) out.insert(record->corrects);
    in_force.push_back(*record);
  }
  std::ranges::reverse(in_force);
  return in_force;
}

}  // namespace pitwright::db
