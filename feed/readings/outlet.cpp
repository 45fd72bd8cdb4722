#include "readings/outlet.h"

#include <algorithm>
#include <utility>

#include <fmt/format.h>

namespace pitwright::feed {

using namespace std::chrono_literals;

bool Outlet::deliver(Delivery delivery) {
  Waiting mine{std::move(delivery)};
  std::unique_lock lock(mutex_);
  if (stopping_) return false;
  waiting_.push_back(&mine);
  arrived_.notify_one();
  settled_.wait(lock, [&mine] { return mine.durable || mine.given_up; });
  return mine.durable;
}

void Outlet::stop() {
  const std::scoped_lock lock(mutex_);
  stopping_ = true;
  for (auto* one : waiting_) one->given_up = true;
  waiting_.clear();
  for (auto* one : in_hand_) one->given_up = true;  // stored or not: not acknowledged
  in_hand_.clear();
  arrived_.notify_all();
  settled_.notify_all();
  ending_.notify_all();
}

bool Outlet::stopping() const {
  const std::scoped_lock lock(mutex_);
  return stopping_;
}

bool Outlet::pause(std::chrono::milliseconds span) {
  std::unique_lock lock(mutex_);
  return ending_.wait_for(lock, span, [this] { return stopping_; });
}

std::optional<Outlet::Stored> Outlet::serve(const Prepare& prepare, const Sink& sink,
                                            std::chrono::milliseconds span, Troubles& troubles) {
  bool fresh = false;
  {
    std::unique_lock lock(mutex_);
    if (in_hand_.empty()) {
      arrived_.wait_for(lock, span, [this] { return stopping_ || !waiting_.empty(); });
      if (waiting_.empty()) return std::nullopt;
      in_hand_.assign(waiting_.begin(), waiting_.end());
      waiting_.clear();
      fresh = true;
      for (auto* one : in_hand_) batch_.push_back(std::move(one->delivery));
    } else if (back_off_.count() > 0) {
      ending_.wait_for(lock, std::min(back_off_, span), [this] { return stopping_; });
    }
  }
  if (fresh) {
    for (auto& delivery : batch_) prepare(delivery);
  }
  const auto taken = sink(batch_);
  const std::scoped_lock lock(mutex_);
  if (!taken && !stopping_) {
    back_off_ = std::clamp(back_off_ * 2, 100ms, 5000ms);
    troubles.once("store", fmt::format("the store does not take readings: {}; the sources wait and "
                                       "nothing is acknowledged",
                                       taken.error().what));
    return std::nullopt;
  }
  if (taken && back_off_.count() > 0) {
    troubles.over("store");
    troubles.now("the store takes readings again");
  }
  back_off_ = 0ms;
  for (auto* one : in_hand_) (taken ? one->durable : one->given_up) = true;
  in_hand_.clear();
  settled_.notify_all();
  auto batch = std::exchange(batch_, {});
  if (!taken) return std::nullopt;
  return Stored{*taken, std::move(batch)};
}

}  // namespace pitwright::feed
