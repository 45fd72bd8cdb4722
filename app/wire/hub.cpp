#include "wire/hub.h"

#include <algorithm>
#include <utility>

#include <fmt/format.h>

#include "base/expects.h"

namespace pitwright::wire {
namespace {

Frame frame_of(std::uint64_t id, std::string_view name, std::string_view data) {
  return std::make_shared<const std::string>(
      fmt::format("id: {}\nevent: {}\ndata: {}\n\n", id, name, data));
}

}  // namespace

Hub::Hub(std::uint64_t first_id, Options options)
    : options_(options), first_id_(first_id), next_id_(first_id) {
  expects(first_id > 0 && options.kept > 0 && options.waiting > 0);
}

void Hub::send(Viewer& viewer, const Frame& frame) {
  if (viewer.waiting.size() >= options_.waiting) {
    viewer.waiting.clear();
    ++lost_;
    // Without an identifier: coming back after it must ask for what is newest.
    viewer.waiting.push_back(std::make_shared<const std::string>("event: lost\ndata: {}\n\n"));
  }
  viewer.waiting.push_back(frame);
  if (viewer.wake) viewer.wake();
}

void Hub::publish(const std::string& topic, std::string_view name, std::string_view data) {
  expects(data.find_first_of("\r\n") == std::string_view::npos);
  const auto id = next_id_++;
  const auto frame = frame_of(id, name, data);
  auto& [kept, forgotten] = topics_.try_emplace(topic, Topic{{}, first_id_ - 1}).first->second;
  kept.push_back({id, frame});
  if (kept.size() > options_.kept) {
    forgotten = kept.front().id;
    kept.pop_front();
  }
  for (const auto& viewer : viewers_)
    if (viewer->topic == topic) send(*viewer, frame);
}

std::shared_ptr<Viewer> Hub::join(const std::string& topic, std::optional<std::uint64_t> after,
                                  std::function<void()> wake) {
  auto viewer = std::make_shared<Viewer>(Viewer{topic, {}, std::move(wake)});
  viewers_.insert(viewer);
  if (!after) return viewer;
  const auto found = topics_.find(topic);
  const auto forgotten = found == topics_.end() ? first_id_ - 1 : found->second.forgotten;
  if (*after < forgotten || *after >= next_id_) {
    ++lost_;
    viewer->waiting.push_back(std::make_shared<const std::string>("event: lost\ndata: {}\n\n"));
    return viewer;
  }
  if (found == topics_.end()) return viewer;
  for (const auto& one : found->second.kept)
    if (one.id > *after) send(*viewer, one.frame);
  return viewer;
}

void Hub::leave(const std::shared_ptr<Viewer>& viewer) {
  viewers_.erase(viewer);
}

bool Hub::is_watched(const std::string& topic) const {
  return std::ranges::any_of(viewers_, [&](const auto& viewer) { return viewer->topic == topic; });
}

std::set<std::string> Hub::watched() const {
  std::set<std::string> topics;
  for (const auto& viewer : viewers_) topics.insert(viewer->topic);
  return topics;
}

}  // namespace pitwright::wire
