#pragma once

#include <chrono>
#include <cstdint>
#include <map>
#include <optional>
#include <span>
#include <string>
#include <variant>
#include <vector>

#include "pit/burn.h"

namespace pitwright::db {

/// A moment in UTC, as the store holds it.
using Stamp = std::chrono::sys_time<std::chrono::microseconds>;

/// Order of arrival: every batch of samples and every record takes the next number of the whole
/// store. Numbers ascend; some may be left out. 0 is before everything.
using Sequence = std::int64_t;

/// Something that happened (lid, split, fuel ...); becomes an Event.
struct Mark {
  EventKind kind = EventKind::note;
  Stamp at{};
  std::optional<Stamp> until{};
  std::string channel{}, piece{}, text{};

  friend bool operator==(const Mark&, const Mark&) = default;
};

/// A setting made; becomes a Stint. Without `to` it runs until the next one, or until now.
struct Turn {
  std::string setting{};
  std::map<std::string, std::string> adjustments{};
  Stamp from{};
  std::optional<Stamp> to{};

  friend bool operator==(const Turn&, const Turn&) = default;
};

/// Where a channel's thermometer sits, and since when; becomes a Probe. A channel that moves gets
/// another placement: the earlier one ends where the later begins.
struct Placement {
  std::string channel{};
  Role role = Role::air;
  std::string spot{}, grate{}, piece{};
  std::optional<double> x_m{}, y_m{}, z_m{};
  double correction_k = 0.0;              ///< to be added to a reading
  std::optional<double> uncertainty_k{};  ///< +- at 95 %
  std::optional<std::chrono::year_month_day> checked{};
  std::optional<Stamp> from{}, until{};

  friend bool operator==(const Placement&, const Placement&) = default;
};

/// A piece of food; becomes a Piece.
struct Food {
  std::string name{}, cut{};
  std::optional<double> mass_kg{};
  std::optional<bool> intact{};
  std::optional<Stamp> on{}, off{};
  std::string rule{}, by{}, action{};

  friend bool operator==(const Food&, const Food&) = default;
};

/// What is said anew of the whole burn; what is left empty stays as it was.
struct Heading {
  std::optional<std::string> title{};
  std::optional<double> matters_k{};    ///< the smallest difference that matters
  std::optional<double> set_point_c{};  ///< of its pit

  friend bool operator==(const Heading&, const Heading&) = default;
};

/// One roll call of one thermometer: what it showed against what was true.
struct Check {
  std::string channel{};
  std::string way{};  ///< "ice", "boil", "bundle", "touching", "clock"
  Stamp at{};
  std::optional<double> shown_c{}, true_c{};
  std::optional<double> correction_k{}, uncertainty_k{};
  std::string text{};

  friend bool operator==(const Check&, const Check&) = default;
};

/// One line of the safety record.
struct BookEntry {
  std::string what{};  ///< "reading", "action", "signature", "rule" ...
  Stamp at{};
  std::string piece{};
  std::optional<double> value{};
  std::string unit{}, text{};

  friend bool operator==(const BookEntry&, const BookEntry&) = default;
};

/// Takes back an earlier record. The record stays; taking back an undo brings it into force again.
struct Undo {
  std::string of{};  ///< id of the record
  std::string why{};

  friend bool operator==(const Undo&, const Undo&) = default;
};

/// One thing told of a burn, written once and never changed or deleted. `id` is made by whoever
/// tells it (a phone, a feed), so that telling it twice is harmless. A record that `corrects`
/// another one stands in its place; the other one is kept with its value.
struct Record {
  std::string id{};        ///< 1 to 64 characters
  std::string corrects{};  ///< id of the record it replaces; empty: none
  std::string by{};        ///< initials or the name of a feed; may be empty
  Stamp written{};         ///< when it was told, by the teller's clock
  std::variant<Mark, Turn, Placement, Food, Heading, Check, BookEntry, Undo> what{};
  Sequence sequence = 0;  ///< given by the store; ignored when handed in
};

/// The records in force: those that nobody took back or corrected, in order of arrival.
std::vector<Record> standing(std::span<const Record> all);

}  // namespace pitwright::db
