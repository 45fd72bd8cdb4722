#include "db/records.h"

#include <algorithm>
#include <set>
#include <string_view>

namespace pitwright::db {

std::vector<Record> standing(std::span<const Record> all) {
  // From the last to the first: whether a record is in force depends on later ones only. A record
  // that was itself corrected still replaces what it corrected; one that was taken back does not.
  std::set<std::string_view> undone, replaced;
  std::vector<Record> in_force;
  for (auto record = all.rbegin(); record != all.rend(); ++record) {
    if (undone.contains(record->id)) continue;
    if (const auto* undo = std::get_if<Undo>(&record->what)) {
      undone.insert(undo->of);
      continue;
    }
    if (!record->corrects.empty()) replaced.insert(record->corrects);
    if (!replaced.contains(record->id)) in_force.push_back(*record);
  }
  std::ranges::reverse(in_force);
  return in_force;
}

}  // namespace pitwright::db
