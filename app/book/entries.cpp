#include "book/entries.h"

#include <algorithm>
#include <map>
#include <random>
#include <utility>

#include "documents/nearest.h"
#include "documents/time_text.h"

namespace pitwright::book {
namespace {

using db::BookEntry;
using db::Record;

std::string fresh_id(db::Stamp now) {
  std::random_device random;
  return fmt::format("book-{:x}-{:08x}", now.time_since_epoch().count(), random());
}

std::string known_rules(std::string_view wanted) {
  std::vector<std::string> names;
  for (const auto& rule : safety::all_rules()) names.push_back(rule.name);
  return documents::suggestion(wanted, names);
}

const Entry* entry_number(const std::vector<Entry>& entries, int number) {
  const auto found = std::ranges::find(entries, number, &Entry::number);
  return found == entries.end() ? nullptr : &*found;
}

/// What a record says, field by field, for the list of changes.
std::map<std::string, std::string> fields_of(const Record& record) {
  const auto stamp = [](const std::optional<db::Stamp>& at) {
    if (!at) return std::string("not told");
    const std::chrono::duration<double> since = at->time_since_epoch();
    return documents::time_text({Instant{}, ""}, since.count());
  };
  const auto kelvins = [](const std::optional<double>& k) {
    return k ? fmt::format("{:+.2f} K", *k) : std::string("not told");
  };
  if (const auto* food = std::get_if<db::Food>(&record.what)) {
    const auto told = [](const std::string& text) { return text.empty() ? "not told" : text; };
    return {{"cut", told(food->cut)},
            {"on", stamp(food->on)},
            {"off", stamp(food->off)},
            {"rule", told(food->rule)},
            {"by", told(food->by)},
            {"action", told(food->action)},
            {"intact", !food->intact   ? "not told"
                       : *food->intact ? "yes"
                                       : "no"}};
  }
  if (const auto* check = std::get_if<db::Check>(&record.what)) {
    return {{"check correction", kelvins(check->correction_k)},
            {"check uncertainty", kelvins(check->uncertainty_k)}};
  }
  if (const auto* placed = std::get_if<db::Placement>(&record.what)) {
    return {{"correction", kelvins(placed->correction_k)},
            {"uncertainty", kelvins(placed->uncertainty_k)},
            {"piece", placed->piece.empty() ? "not told" : placed->piece}};
  }
  return {};
}

std::string subject_of(const Record& record) {
  if (const auto* food = std::get_if<db::Food>(&record.what)) return food->name;
  if (const auto* check = std::get_if<db::Check>(&record.what)) return check->channel;
  if (const auto* placed = std::get_if<db::Placement>(&record.what)) return placed->channel;
  return "";
}

Result<void> check_writing(const Writing& writing, const std::vector<std::string>& piece_names) {
  const auto bad = ErrorKind::bad_input;
  if (writing.sign.empty() && writing.by.empty()) {
    return fail(bad, "say whose entry it is: --by INITIALS");
  }
  if (!writing.piece.empty() &&
      std::ranges::find(piece_names, writing.piece) == piece_names.end()) {
    return fail(bad, "there is no piece '{}' in this burn{}", writing.piece,
                documents::suggestion(writing.piece, piece_names));
  }
  if (writing.piece.empty() && (!writing.rule.empty() || writing.reading)) {
    return fail(bad, "say of which piece: --piece NAME");
  }
  const auto chosen = safety::chosen_rules(writing.rule);
  if (!chosen.unknown.empty()) {
    return fail(bad,
                "'{}' is not a rule that pitwright knows{}; 'pitwright book --rules' lists them",
                chosen.unknown.front(), known_rules(chosen.unknown.front()));
  }
  if (writing.take_back && writing.why.empty()) {
    return fail(bad, "say why entry {} is taken back: --why TEXT", *writing.take_back);
  }
  return {};
}

std::vector<BookEntry> new_entries(const Writing& writing, db::Stamp at) {
  std::vector<BookEntry> made;
  const auto add = [&](std::string what, std::string text) {
    made.push_back({std::move(what), at, writing.piece, {}, {}, std::move(text)});
  };
  if (writing.reading) {
    add("reading", writing.text);
    made.back().value = writing.reading->celsius();
    made.back().unit = "C";
  }
  if (!writing.rule.empty()) add("rule", writing.rule);
  if (!writing.action.empty()) add("action", writing.action);
  if (!writing.sign.empty()) add("signature", writing.text);
  return made;
}

/// Fails: bad_input where the book has no such entry.
Result<const Entry*> entry_numbered(const std::vector<Entry>& entries, int number) {
  const auto* entry = entry_number(entries, number);
  if (entry != nullptr) return entry;
  return fail(ErrorKind::bad_input, "the book has no entry {}; it has {}", number, entries.size());
}

/// The records of one writing; what they correct or take back is looked up in `entries`.
Result<std::vector<Record>> drafted(const Writing& writing, const std::vector<Entry>& entries,
                                    db::Stamp now) {
  const auto at = std::min(writing.at.value_or(now), now);
  const auto by = writing.by.empty() ? writing.sign : writing.by;
  std::vector<Record> records;
  for (auto& what : new_entries(writing, at)) {
    Record record;
    record.id = fresh_id(now);
    record.by = what.what == "signature" ? writing.sign : by;
    record.written = at;
    record.what = std::move(what);
    records.push_back(std::move(record));
  }
  if (writing.corrects) {
    if (records.size() != 1)
      return fail(ErrorKind::bad_input, "a correction goes with exactly one new entry");
    const auto old = entry_numbered(entries, *writing.corrects);
    if (!old) return std::unexpected(old.error());
    const auto& was = (*old)->what.what;
    if (was != std::get<BookEntry>(records[0].what).what)
      return fail(ErrorKind::bad_input, "entry {} is a {}; it can be corrected by another {} only",
                  (*old)->number, was, was);
    records[0].corrects = (*old)->record.id;
  }
  if (writing.take_back) {
    const auto old = entry_numbered(entries, *writing.take_back);
    if (!old) return std::unexpected(old.error());
    records.push_back({fresh_id(now), "", by, at, db::Undo{(*old)->record.id, writing.why}, 0});
  }
  if (!writing.id.empty() && records.size() != 1)
    return fail(ErrorKind::bad_input, "an entry with an id of its own says exactly one thing");
  if (!writing.id.empty()) records[0].id = writing.id;
  return records;
}

/// Whether two records say the same, whenever they were written down.
bool says_the_same(const Record& one, Record other) {
  auto* entry = std::get_if<BookEntry>(&other.what);
  const auto* mine = std::get_if<BookEntry>(&one.what);
  if (entry != nullptr && mine != nullptr) entry->at = mine->at;
  return one.what == other.what && one.by == other.by && one.corrects == other.corrects;
}

/// The new records of one writing; none where its id is there already.
Result<std::vector<Record>> records_of(const Writing& writing, const std::vector<Record>& history,
                                       const std::vector<std::string>& piece_names, db::Stamp now) {
  if (auto fine = check_writing(writing, piece_names); !fine) return std::unexpected(fine.error());
  const auto entries = entries_of(history);
  auto records = drafted(writing, entries, now);
  if (!records) return records;
  const auto before = std::ranges::find(history, writing.id, &Record::id);
  if (!writing.id.empty() && before != history.end()) {
    if (says_the_same(*before, records->front())) return std::vector<Record>();
    return fail(ErrorKind::conflict, "this burn has another record with the id '{}'", writing.id);
  }
  for (const auto& number : {writing.corrects, writing.take_back}) {
    if (number && !entry_number(entries, *number)->stands())
      return fail(ErrorKind::bad_input,
                  "entry {} does not stand any more; correct or take back the one in its place",
                  *number);
  }
  return records;
}

}  // namespace

bool Writing::is_empty() const {
  return sign.empty() && action.empty() && rule.empty() && !reading && !take_back;
}

std::vector<Entry> entries_of(const std::vector<Record>& history) {
  std::vector<Entry> entries;
  std::map<std::string, int> number_of;
  for (const auto& record : history) {
    const auto* what = std::get_if<BookEntry>(&record.what);
    if (what == nullptr) continue;
    entries.push_back({static_cast<int>(entries.size()) + 1, record, *what, {}, false, {}});
    number_of[record.id] = entries.back().number;
  }
  // As db::standing does it, but what is out of force stays here, with the reason.
  std::map<std::string, std::string> undone, replaced;
  for (auto record = history.rbegin(); record != history.rend(); ++record) {
    if (undone.contains(record->id)) continue;
    if (const auto* undo = std::get_if<db::Undo>(&record->what))
      undone[undo->of] = undo->why;
    else if (!record->corrects.empty())
      replaced[record->corrects] = record->id;
  }
  for (auto& entry : entries) {
    const auto out = undone.find(entry.record.id);
    const auto by = replaced.find(entry.record.id);
    entry.is_taken_back = out != undone.end();
    if (entry.is_taken_back)
      entry.why = out->second;
    else if (by != replaced.end())
      entry.replaced_by = std::to_string(number_of[by->second]);
  }
  return entries;
}

std::vector<Change> changes_of(const std::vector<Record>& history) {
  std::vector<Change> changes;
  for (const auto& record : history) {
    if (record.corrects.empty()) continue;
    const auto before = std::ranges::find(history, record.corrects, &Record::id);
    if (before == history.end()) continue;
    const auto was = fields_of(*before), now = fields_of(record);
    for (const auto& [field, value] : now) {
      const auto old = was.find(field);
      if (old == was.end() || old->second == value) continue;
      changes.push_back(
          {record.written, record.by, field + " of " + subject_of(record), old->second, value});
    }
  }
  return changes;
}

Result<Told> told_of(db::Store& store, db::BurnId burn) {
  auto history = store.records(burn);
  if (!history) return std::unexpected(history.error());
  Told told{*std::move(history), {}};
  for (const auto& entry : entries_of(told.history)) {
    if (entry.what.what != "signature" || !entry.stands()) continue;
    const auto later = store.samples(burn, {{}, {}, {}, entry.record.sequence});
    if (!later) return std::unexpected(later.error());
    if (!later->empty()) told.arrivals.push_back(entry.record.sequence);
  }
  return told;
}

Result<void> write_entries(db::Store& store, db::BurnId burn, std::span<const Writing> writings,
                           const std::vector<std::string>& piece_names, db::Stamp now) {
  auto history = store.records(burn);
  if (!history) return std::unexpected(history.error());
  std::vector<Record> fresh;
  for (const auto& writing : writings) {
    auto records = records_of(writing, *history, piece_names, now);
    if (!records) return std::unexpected(records.error());
    history->insert(history->end(), records->begin(), records->end());
    fresh.insert(fresh.end(), records->begin(), records->end());
  }
  if (fresh.empty()) return {};
  const auto told = store.tell(burn, fresh);
  if (!told) return std::unexpected(told.error());
  return {};
}

}  // namespace pitwright::book
