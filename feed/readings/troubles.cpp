#include "readings/troubles.h"

#include "logs/encoding.h"

namespace pitwright::feed {

void Troubles::once(std::string_view kind, std::string_view text) {
  const std::scoped_lock lock(mutex_);
  ++total_;
  if (const auto found = seen_.find(kind); found != seen_.end()) {
    ++found->second;
    return;
  }
  if (seen_.size() == most_kinds) {
    say_("more kinds of trouble than can be listed; further ones are counted only");
    seen_.emplace("", 1);
    return;
  }
  if (seen_.size() > most_kinds) return;
  seen_.emplace(kind, 1);
  say_(std::string(text));
}

void Troubles::now(std::string_view text) {
  const std::scoped_lock lock(mutex_);
  ++total_;
  say_(std::string(text));
}

void Troubles::over(std::string_view kind) {
  const std::scoped_lock lock(mutex_);
  if (const auto found = seen_.find(kind); found != seen_.end()) seen_.erase(found);
}

std::int64_t Troubles::total() const {
  const std::scoped_lock lock(mutex_);
  return total_;
}

std::string shown(std::string_view bytes) {
  constexpr std::size_t most = 60;
  auto text = logs::to_utf8(bytes.substr(0, most), logs::Encoding::utf8);
  for (char& c : text) {
    if (static_cast<unsigned char>(c) < 0x20 || c == 0x7f) c = '?';
  }
  return bytes.size() > most ? text + "..." : text;
}

}  // namespace pitwright::feed
