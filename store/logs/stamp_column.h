#pragma once

#include <cstddef>
#include <cstdint>
#include <memory>
#include <span>
#include <utility>
#include <vector>

namespace pitwright::logs {

/// Stamps of a channel in [ms], ascending strictly. Reads like a constant vector; copies share one
/// block, so the channels of a wide table hold their stamps once.
class StampColumn {
 public:
  using value_type = std::int64_t;
  using const_iterator = const std::int64_t*;

  StampColumn() = default;
  // NOLINTNEXTLINE(google-explicit-constructor): a vector of stamps is one
  StampColumn(std::vector<std::int64_t> ms)
      : ms_(std::make_shared<const std::vector<std::int64_t>>(std::move(ms))) {}

  std::size_t size() const { return ms_ ? ms_->size() : 0; }
  bool empty() const { return size() == 0; }
  const std::int64_t* data() const { return ms_ ? ms_->data() : nullptr; }
  const_iterator begin() const { return data(); }
  const_iterator end() const { return ms_ ? ms_->data() + ms_->size() : nullptr; }
  std::int64_t operator[](std::size_t i) const { return (*ms_)[i]; }
  std::int64_t front() const { return ms_->front(); }
  std::int64_t back() const { return ms_->back(); }
  void clear() { ms_.reset(); }

  // NOLINTNEXTLINE(google-explicit-constructor): kernels take spans
  operator std::span<const std::int64_t>() const { return {data(), size()}; }
  /// Whether both hold one block, not only equal stamps.
  bool shares_with(const StampColumn& other) const { return ms_ == other.ms_; }

 private:
  std::shared_ptr<const std::vector<std::int64_t>> ms_;
};

}  // namespace pitwright::logs
