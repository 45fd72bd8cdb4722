#pragma once

#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.h"
#include "book/book.h"
#include "db/store.h"

namespace pitwright::book {

/// What a person wants to write into the book of a burn in the store.
struct Writing {
  std::string sign;    ///< initials; empty: no signature
  std::string action;  ///< what was done
  std::string rule;    ///< rules chosen for `piece`
  std::optional<Temperature> reading;
  std::string piece;             ///< empty: all pieces
  std::string by;                ///< initials; empty: those of `sign`
  std::string text;              ///< beside a reading or a signature
  std::optional<int> corrects;   ///< number of the entry that the new one replaces
  std::optional<int> take_back;  ///< number of an entry that was wrong
  std::string why;
  std::string id;  ///< of the one record it makes, by whoever tells it; empty: made here
  std::optional<db::Stamp> at;  ///< when it was written down; empty, or after `now`: now

  bool is_empty() const;
};

/// The lines of the record in the whole history, numbered.
std::vector<Entry> entries_of(const std::vector<db::Record>& history);

/// What the burn's own records said before they were corrected: pieces, checks, placements.
std::vector<Change> changes_of(const std::vector<db::Record>& history);

/// Everything told of a burn of the store. Fails like Store.
Result<Told> told_of(db::Store& store, db::BurnId burn);

/// Adds entries, all or none; nothing that is there is changed. One whose `id` is there already
/// with the same content changes nothing. `piece_names` are those of the burn. Fails: bad_input for
/// an unknown piece, rule or number, or nobody's initials; conflict for an `id` that is there with
/// other content; like Store::tell.
Result<void> write_entries(db::Store& store, db::BurnId burn, std::span<const Writing> writings,
                           const std::vector<std::string>& piece_names, db::Stamp now);

}  // namespace pitwright::book
