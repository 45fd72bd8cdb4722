#pragma once

#include <map>
#include <string>
#include <vector>

#include "db/sqlite.h"
#include "db/store.h"

namespace pitwright::db {

inline std::int64_t number_of(BurnId burn) {
  return static_cast<std::int64_t>(burn);
}
inline std::int64_t us_of(Stamp stamp) {
  return stamp.time_since_epoch().count();
}
inline Stamp stamp_of(std::int64_t us) {
  return Stamp(std::chrono::microseconds(us));
}

/// The store in one SQLite file. The members that answer a Result are the public ones of Store; the
/// others throw Refusal.
class SqliteStore final : public Store {
 public:
  SqliteStore(std::string path, const Opening& opening);

  Result<BurnId> light(const NewBurn& burn) override;
  Result<void> close(BurnId burn, Stamp when) override;
  Result<std::vector<BurnLine>> burns() override;
  Result<BurnLine> burn(BurnId burn) override;
  Result<BurnLine> find(std::string_view name_or_number) override;
  Result<Appended> append(BurnId burn, std::span<const Sample> samples) override;
  Result<Told> tell(BurnId burn, std::span<const Record> records) override;
  Result<std::vector<Record>> records(BurnId burn, Sequence after) override;
  Result<std::vector<Series>> samples(BurnId burn, const Wanted& wanted) override;
  Result<std::vector<ThinSeries>> thinned(BurnId burn, const Wanted& wanted, int buckets) override;
  Result<std::vector<Sample>> latest(BurnId burn) override;
  Result<Kept> keep(const ToKeep& burn) override;
  Result<std::vector<KeptFile>> files(BurnId burn) override;
  Result<void> remember(const KnownPit& pit) override;
  Result<std::vector<KnownPit>> pits() override;

 private:
  struct Channel {
    std::int64_t number = 0;
    std::int64_t samples = 0, first_us = 0, last_us = 0;
    bool is_new = false, is_changed = false;
  };
  using Channels = std::map<std::string, Channel, std::less<>>;

  /// Stretch of time and channels that a question of samples is about.
  struct Stretch {
    std::int64_t from_us = 0, until_us = 0;
    std::vector<std::pair<std::string, Channel>> channels;
  };

  BurnState state_of(BurnId burn);  ///< not_found
  bool is_taken(const std::string& name);
  std::optional<BurnId> same_burn(const NewBurn& burn);
  BurnId insert_burn(const NewBurn& burn, BurnState state, bool on_world_clock,
                     const std::string& document, const std::string& content);
  std::vector<BurnLine> burn_lines(std::optional<BurnId> one);
  void apply_headings(BurnLine& line);
  std::vector<Record> records_of(BurnId burn, Sequence after);
  Sequence next_sequence();
  void insert_arrival(Sequence sequence, std::optional<BurnId> burn,
                      std::optional<std::int64_t> first_us, std::optional<std::int64_t> last_us);
  Channels channels_of(BurnId burn);
  Appended insert_samples(BurnId burn, std::span<const Sample> samples);
  void write_channels(BurnId burn, const Channels& channels);
  Stretch stretch_of(BurnId burn, const Wanted& wanted);
  bool insert_record(BurnId burn, const Record& record, Sequence sequence);
  bool is_told(BurnId burn, const std::string& id);
  void insert_file(BurnId burn, const KeptFile& file);
  std::string free_name(const std::string& name);

  Connection connection_;
};

/// Throws Refusal (bad_input) unless the name can stand on a command line and as a folder.
void check_name(const std::string& name);

}  // namespace pitwright::db
