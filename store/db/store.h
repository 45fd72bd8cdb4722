#pragma once

#include <chrono>
#include <cstdint>
#include <filesystem>
#include <memory>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.h"
#include "db/records.h"
#include "pit/pit.h"
#include "units/temperature.h"

namespace pitwright::db {

/// A burn's number in its store.
enum class BurnId : std::int64_t {};

/// One reading of a live burn. `channel` is unique in its burn; a feed puts its source before a
/// name that another source may have too ("pit.csv:T1").
struct Sample {
  std::string channel{};
  Stamp at{};
  double value = 0.0;  ///< degC (km/h for wind, % for drive); NaN: the sensor said "missing"
};

/// What became of a batch. stored + duplicate + differing is its size.
struct Appended {
  std::int64_t stored = 0;
  std::int64_t duplicate = 0;  ///< there already with the same value
  std::int64_t differing = 0;  ///< there already with another value, which stays
  std::int64_t late = 0;       ///< of those stored: earlier than one the channel had before
  Sequence sequence = 0;       ///< of this batch; 0 where nothing was stored
};

/// What became of records. A record whose id is there already with other content is an error.
struct Told {
  std::int64_t stored = 0;
  std::int64_t duplicate = 0;
  Sequence sequence = 0;  ///< of the last one stored; 0 where nothing was
};

/// What is known of a burn when it is lit.
struct NewBurn {
  std::string name{};   ///< short and unique in the store: "2026-05-02"; what the commands take
  std::string title{};  ///< what its people wanted to know; may be empty
  Scale scale = Scale::fahrenheit;
  std::optional<TemperatureDelta> matters{};  ///< empty: 10 F or 5 C
  std::string timezone{};                     ///< IANA name; empty: UTC
  Pit pit{};
  Stamp lit{};
};

enum class BurnState {
  live,    ///< takes samples
  closed,  ///< was live; takes records and late samples
  kept     ///< a burn directory, kept verbatim
};

std::string_view name_of(BurnState state);

/// One line of the list of burns, with every Heading that is in force.
struct BurnLine {
  BurnId id{};
  std::string name{}, title{};
  BurnState state = BurnState::live;
  Scale scale = Scale::fahrenheit;
  std::optional<TemperatureDelta> matters{};
  std::string timezone{};
  Pit pit{};
  bool on_world_clock = true;  ///< false: a kept burn whose stamps count from its first sample
  Stamp lit{};                 ///< for a kept burn its zero
  std::optional<Stamp> closed{};
  std::optional<Stamp> first{}, last{};  ///< of its samples
  std::int64_t samples = 0;
  std::int64_t channels = 0;
  std::int64_t records = 0;
  std::int64_t files = 0;       ///< of a kept burn
  std::int64_t file_bytes = 0;  ///< as they were, before compression
  std::string content{};        ///< of a kept burn: SHA-256 over its files, hexadecimal
  Sequence sequence = 0;        ///< the last thing that arrived for it
};

/// Which samples to read. Everything left empty does not restrict.
struct Wanted {
  std::vector<std::string> channels{};
  std::optional<Stamp> from{}, until{};  ///< from <= at < until
  Sequence after = 0;                    ///< only what arrived after this
};

/// One channel's samples in ascending time. Shapes: `at` and `values` have equal length.
struct Series {
  std::string channel{};
  std::vector<Stamp> at{};
  std::vector<double> values{};
};

/// What a channel did in one stretch of a drawing. Missing readings do not count.
struct Bucket {
  Stamp first{}, last{};  ///< of the samples in it
  double low = 0.0, high = 0.0, mean = 0.0;
  std::int64_t samples = 0;
};

struct ThinSeries {
  std::string channel{};
  std::vector<Bucket> buckets{};  ///< ascending; empty stretches are left out
};

/// One file of a kept burn, byte for byte. `path` is relative, with slashes, never upwards.
struct KeptFile {
  std::string path{};
  std::string bytes{};
};

/// A burn directory ready to be kept: its files, and what its samples look like on its clock.
struct ToKeep {
  NewBurn head{};
  bool on_world_clock = true;
  std::string document{};  ///< path of the burn.toml among the files
  std::vector<KeptFile> files{};
  std::vector<Sample> samples{};  ///< for drawing; the files stay what the burn is read from
};

struct Kept {
  BurnId id{};
  std::string name{};
  bool was_there = false;  ///< the very same files are kept already, under this name
};

/// A pit that is remembered beyond its burns, and the places where its thermometers usually sit.
struct KnownPit {
  Pit pit{};
  std::vector<Placement> spots{};
  Sequence sequence = 0;  ///< given by the store; ignored when handed in
};

/// The memory of pitwright.
///
/// Promise: a call that returned without an error has its data on the disk; neither the end of the
/// process nor a loss of power takes it away (as far as the disk keeps what fsync promises). A
/// call that failed has changed nothing.
///
/// One Store belongs to one thread. Several threads and processes may each open the same database:
/// readers never wait, writers take turns.
///
/// Every member fails with `unavailable` (disk full, locked by another process, read-only place,
/// damaged file; the sentence names the file and says what to do), and as told beside it.
class Store {
 public:
  virtual ~Store() = default;

  /// Opens a live burn. The very same again gives the same one.
  /// Fails: conflict where the name is taken by another; bad_input for a name that cannot be one or
  /// an unknown time zone.
  virtual Result<BurnId> light(const NewBurn& burn) = 0;

  /// Ends a live burn. Ending it again changes nothing. Fails: not_found; conflict for a kept burn.
  virtual Result<void> close(BurnId burn, Stamp when) = 0;

  /// All burns, the latest lit first.
  virtual Result<std::vector<BurnLine>> burns() = 0;

  /// One burn. Fails: not_found.
  virtual Result<BurnLine> burn(BurnId burn) = 0;

  /// By name, else by number. Fails: not_found with the nearest name.
  virtual Result<BurnLine> find(std::string_view name_or_number) = 0;

  /// Adds samples of a live or closed burn, in any order, as one transaction. A sample is known by
  /// channel and stamp; one that is there already is counted and left as it is.
  /// Fails: not_found; conflict for a kept burn; bad_input for an empty channel name or an
  /// infinite value.
  virtual Result<Appended> append(BurnId burn, std::span<const Sample> samples) = 0;

  /// Adds records in order, as one transaction. Fails: not_found; conflict where an id is there
  /// already with other content; bad_input for a bad id, or an Undo or correction of an unknown id.
  virtual Result<Told> tell(BurnId burn, std::span<const Record> records) = 0;

  /// A burn's records that arrived after a number, oldest first: the whole history; see standing().
  /// Fails: not_found.
  virtual Result<std::vector<Record>> records(BurnId burn, Sequence after = 0) = 0;

  /// A burn's samples, one series per channel that has any, by name. Fails: not_found.
  virtual Result<std::vector<Series>> samples(BurnId burn, const Wanted& wanted = {}) = 0;

  /// The same from..until cut into at most `buckets` equal stretches, for drawing.
  /// Fails: not_found; bad_input where buckets < 1.
  virtual Result<std::vector<ThinSeries>> thinned(BurnId burn, const Wanted& wanted,
                                                  int buckets) = 0;

  /// The last reading in time of every channel, by name. Fails: not_found.
  virtual Result<std::vector<Sample>> latest(BurnId burn) = 0;

  /// Keeps a burn directory; the same files again are recognized. A name taken by other files gets
  /// "-2", "-3" ... after it. Fails: bad_input for a path that leads out of the directory.
  virtual Result<Kept> keep(const ToKeep& burn) = 0;

  /// A kept burn's files, the document first. Fails: not_found; conflict for a burn that was live;
  /// unavailable where the bytes do not give the hash they were kept with.
  virtual Result<std::vector<KeptFile>> files(BurnId burn) = 0;

  /// Remembers a pit under its name; the same again changes nothing, and earlier versions stay in
  /// the file. Fails: bad_input without name.
  virtual Result<void> remember(const KnownPit& pit) = 0;

  /// The latest of every pit, by name.
  virtual Result<std::vector<KnownPit>> pits() = 0;
};

/// How to open a store.
struct Opening {
  bool make = true;  ///< make the file and its folder where there is none; else not_found
  std::chrono::milliseconds patience{5000};  ///< how long to wait for another process's writing
};

/// Opens the store at a path (SQLite), made or brought up to this program's version where needed.
/// Fails: unavailable (see Store); conflict where a newer pitwright made it; not_found; bad_input
/// for a kind of store this build does not have.
Result<std::unique_ptr<Store>> open_store(std::string_view where, const Opening& opening = {});

/// Where the store is: what was asked for, else the environment's PITWRIGHT_DATABASE, else
/// pitwright/pitwright.db in XDG_DATA_HOME, else in ~/.local/share.
/// Fails: not_found where there is not even a home.
Result<std::string> store_place(std::string_view asked_for = {});

}  // namespace pitwright::db
