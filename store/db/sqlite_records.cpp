#include <algorithm>

#include "db/bodies.h"
#include "db/sqlite_store.h"

namespace pitwright::db {
namespace {

void check(const Record& record, BurnState state) {
  constexpr std::size_t longest = 64;
  if (record.id.empty() || record.id.size() > longest) {
    refuse(ErrorKind::bad_input, "a record needs an id of 1 to {} characters, not '{}'", longest,
           record.id);
  }
  const bool is_of_its_document =
      std::holds_alternative<Mark>(record.what) || std::holds_alternative<Turn>(record.what) ||
      std::holds_alternative<Placement>(record.what) || std::holds_alternative<Food>(record.what) ||
      std::holds_alternative<Heading>(record.what);
  if (state == BurnState::kept && is_of_its_document) {
    refuse(ErrorKind::conflict,
           "record '{}': a kept burn's title, events, stints, probes and pieces stand in its "
           "burn.toml; "
           "take it out, change that, and keep it again",
           record.id);
  }
}

}  // namespace

bool SqliteStore::is_told(BurnId burn, const std::string& id) {
  auto& ask = connection_.cached("SELECT 1 FROM record WHERE burn = ? AND id = ?");
  const bool found = ask.with(number_of(burn), id).step();
  ask.reset();
  return found;
}

/// False where it is there already with the same content.
bool SqliteStore::insert_record(BurnId burn, const Record& record, Sequence sequence) {
  const auto body = body_of(record);
  auto& ask = connection_.cached(
      "SELECT kind = ? AND body = ? AND corrects = ? AND teller = ? FROM record"
      " WHERE burn = ? AND id = ?");
  const bool known =
      ask.with(body.kind, body.json, record.corrects, record.by, number_of(burn), record.id).step();
  const bool is_same = known && ask.integer(0) != 0;
  ask.reset();
  if (is_same) return false;
  if (known) {
    refuse(ErrorKind::conflict,
           "record '{}' is there already with other content; to change it, tell a new one that "
           "corrects it",
           record.id);
  }
  const auto* undo = std::get_if<Undo>(&record.what);
  const auto& earlier = undo != nullptr ? undo->of : record.corrects;
  if ((undo != nullptr || !earlier.empty()) && !is_told(burn, earlier)) {
    refuse(ErrorKind::bad_input, "record '{}' speaks of a record '{}' that this burn does not have",
           record.id, earlier);
  }
  insert_arrival(sequence, burn, {}, {});
  connection_
      .cached(
          "INSERT INTO record (sequence, burn, id, corrects, teller, written_us, kind, body)"
          " VALUES (?, ?, ?, ?, ?, ?, ?, ?)")
      .with(sequence, number_of(burn), record.id, record.corrects, record.by, us_of(record.written),
            body.kind, body.json)
      .run();
  return true;
}

Result<Told> SqliteStore::tell(BurnId burn, std::span<const Record> records) {
  return answer([&] {
    Transaction work(connection_);
    const auto state = state_of(burn);
    auto sequence = next_sequence();
    Told told;
    for (const auto& record : records) {
      check(record, state);
      if (insert_record(burn, record, sequence)) {
        ++told.stored;
        told.sequence = sequence++;
      } else {
        ++told.duplicate;
      }
    }
    work.commit();
    return told;
  });
}

std::vector<Record> SqliteStore::records_of(BurnId burn, Sequence after) {
  auto ask = connection_.prepare(
      "SELECT sequence, id, corrects, teller, written_us, kind, body FROM record"
      " WHERE burn = ? AND sequence > ? ORDER BY sequence");
  ask.with(number_of(burn), after);
  std::vector<Record> all;
  while (ask.step()) {
    auto& record = all.emplace_back();
    record.sequence = ask.integer(0);
    record.id = ask.text(1);
    record.corrects = ask.text(2);
    record.by = ask.text(3);
    record.written = stamp_of(ask.integer(4));
    read_body(ask.text(5), ask.text(6), record);
  }
  return all;
}

Result<std::vector<Record>> SqliteStore::records(BurnId burn, Sequence after) {
  return answer([&] {
    Transaction look(connection_, Transaction::For::reading);
    state_of(burn);
    return records_of(burn, after);
  });
}

}  // namespace pitwright::db
