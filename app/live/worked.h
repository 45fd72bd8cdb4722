#pragma once

#include <chrono>
#include <compare>
#include <map>
#include <memory>
#include <optional>
#include <string>

#include "base/result.h"
#include "call/report.h"
#include "db/store.h"
#include "lay/lay.h"
#include "pit/burn.h"

namespace pitwright::live {

/// A burn as it stands in the store.
struct Standing {
  db::BurnLine line;
  std::shared_ptr<const Burn> burn;
  std::chrono::steady_clock::time_point heard{};  ///< when something of it was seen to arrive last

  bool is_live() const { return line.state == db::BurnState::live; }
};

/// Which call of a burn. By default the newest; of a live burn as known now.
struct CallAsked {
  std::optional<double> at_s;
  std::string without_spot;
  std::optional<int> without_stint;

  friend auto operator<=>(const CallAsked&, const CallAsked&) = default;
};

/// A call and the burn it was made of, which lacks what was left out.
struct WorkedCall {
  std::shared_ptr<const Burn> burn;
  Result<call::Report> made;
  mutable std::shared_ptr<const lay::Lay> lay;  ///< once it was asked for
};

/// A burn of the store as the engine takes it; one that nothing has been heard of yet is empty but
/// for its head. Fails: not_found; as the store does.
Result<Burn> burn_of(db::Store& store, const db::BurnLine& line);

/// Burns, calls and lays that were worked out, kept until something arrives for the burn. Belongs
/// to one thread.
class Worked {
 public:
  explicit Worked(db::Store& store) : store_(store) {}

  /// A burn by name or number. Fails: not_found; as the store does.
  Result<Standing> burn(std::string_view name_or_number);
  Result<Standing> burn(db::BurnId id);

  /// Never fails itself: what cannot be called says why in `made`.
  std::shared_ptr<const WorkedCall> call(const Standing& standing, const CallAsked& asked);

  /// The lay of a call, its band what matters. Pre: call.made. Fails: as make_lay does.
  Result<std::shared_ptr<const lay::Lay>> lay(const WorkedCall& call);

 private:
  struct Known {
    Standing standing;
    std::map<CallAsked, std::shared_ptr<const WorkedCall>> calls;
  };
  Result<Standing> standing(Result<db::BurnLine> line);
  Known& known(const Standing& standing);

  db::Store& store_;
  std::map<db::BurnId, Known> known_;  ///< bounded
};

}  // namespace pitwright::live
