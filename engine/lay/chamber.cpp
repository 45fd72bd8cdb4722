#include "lay/chamber.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include <Eigen/Eigenvalues>

namespace pitwright::lay {
namespace {

constexpr double missing = std::numeric_limits<double>::quiet_NaN();
constexpr double same_place_m = 0.01;
constexpr double margin = 0.15;  ///< of the spots' extent, around them where the size is unknown
constexpr double least_m = 0.3;  ///< of a chamber's side nobody gave
constexpr double thin = 0.02;    ///< of the longest extent: no breadth worth the name
constexpr int few = 4;

std::optional<double> grate_height(const Pit& pit, const std::string& name) {
  for (const auto& grate : pit.grates)
    if (grate.name == name) return grate.height_m;
  return pit.grates.size() == 1 ? pit.grates.front().height_m : std::nullopt;
}

/// Mean of the finite ones; NaN without any.
double mean_of(const Eigen::VectorXd& values) {
  double sum = 0.0;
  int n = 0;
  for (const double v : values)
    if (std::isfinite(v)) {
      sum += v;
      ++n;
    }
  return n > 0 ? sum / n : missing;
}

void fill(Eigen::Ref<Eigen::VectorXd> column, double value) {
  for (auto& v : column)
    if (!std::isfinite(v)) v = value;
}

}  // namespace

Places places_of(const Pit& pit, const std::vector<call::SpotTogether>& spots) {
  Places places{Eigen::MatrixXd(std::ssize(spots), 3), false};
  for (std::size_t i = 0; i < spots.size(); ++i) {
    const auto& spot = spots[i];
    const auto z = spot.z_m ? spot.z_m : grate_height(pit, spot.grate);
    places.at.row(static_cast<Eigen::Index>(i)) << spot.x_m.value_or(missing),
        spot.y_m.value_or(missing), z.value_or(missing);
  }
  const auto is_known = [](double v) { return std::isfinite(v); };
  const bool any_x = std::ranges::any_of(places.at.col(0), is_known);
  const bool any_y = std::ranges::any_of(places.at.col(1), is_known);
  if (any_x && !any_y) fill(places.at.col(1), pit.depth_m.value_or(0.0) / 2.0);
  if (any_y && !any_x) fill(places.at.col(0), pit.width_m.value_or(0.0) / 2.0);
  places.height_assumed = !std::ranges::all_of(places.at.col(2), is_known);
  const double mean = mean_of(places.at.col(2));
  fill(places.at.col(2), std::isfinite(mean) ? mean : pit.height_m.value_or(0.0) / 2.0);
  return places;
}

Box box_of(const Pit& pit, const Eigen::MatrixXd& places) {
  const std::array sides{pit.width_m, pit.depth_m, pit.height_m};
  Box box{Eigen::Array3d::Zero(), Eigen::Array3d::Zero(), !pit.width_m || !pit.depth_m};
  double widest = least_m;
  for (int k = 0; k < 2; ++k)
    widest = std::max(widest, places.col(k).maxCoeff() - places.col(k).minCoeff());
  for (int k = 0; k < 3; ++k) {
    const double low = places.col(k).minCoeff(), high = places.col(k).maxCoeff();
    const auto& side = sides[static_cast<std::size_t>(k)];
    if (side && *side > 0.0) {
      box.low(k) = std::min(0.0, low);
      box.high(k) = std::max(*side, high);
      continue;
    }
    const double extent = std::max((high - low) * (1.0 + 2.0 * margin),
                                   k == 2 ? 0.5 * widest : std::min(least_m, widest));
    box.low(k) = 0.5 * (low + high - extent);
    box.high(k) = box.low(k) + extent;
  }
  return box;
}

std::vector<Lattice> grates_of(const Pit& pit, const Box& box, const std::vector<LaySpot>& spots,
                               int nodes_x, int nodes_y) {
  std::vector<Lattice> grates;
  const auto add = [&](const std::string& name, double z_m) {
    grates.push_back({name, box.low(0), box.low(1), box.high(0) - box.low(0),
                      box.high(1) - box.low(1), z_m, nodes_x, nodes_y});
  };
  for (const auto& grate : pit.grates)
    if (grate.height_m) add(grate.name, *grate.height_m);
  for (const auto& spot : spots) {
    if (spot.grate.empty() ||
        std::ranges::find(grates, spot.grate, &Lattice::grate) != grates.end())
      continue;
    double sum = 0.0;
    int n = 0;
    for (const auto& other : spots)
      if (other.grate == spot.grate) {
        sum += other.place.z_m;
        ++n;
      }
    add(spot.grate, sum / n);
  }
  if (!grates.empty()) return grates;
  double sum = 0.0;
  for (const auto& spot : spots) sum += spot.place.z_m;
  add("", sum / static_cast<double>(spots.size()));
  return grates;
}

std::vector<LayNote> place_notes(const Eigen::MatrixXd& places, const Box& box) {
  std::vector<LayNote> notes;
  int apart = 0;
  for (Eigen::Index i = 0; i < places.rows(); ++i) {
    bool is_new = true;
    for (Eigen::Index j = 0; j < i; ++j)
      is_new = is_new && (places.row(i) - places.row(j)).norm() >= same_place_m;
    if (is_new) ++apart;
  }
  if (apart < places.rows()) notes.push_back(LayNote::shared_place);
  if (apart < few) notes.push_back(LayNote::few_spots);
  // On the floor plan: the smaller of the two principal extents.
  const Eigen::MatrixXd plan = places.leftCols(2).rowwise() - places.leftCols(2).colwise().mean();
  const Eigen::SelfAdjointEigenSolver<Eigen::Matrix2d> axes(plan.transpose() * plan);
  const double longest = std::max(box.high(0) - box.low(0), box.high(1) - box.low(1));
  if (std::sqrt(std::max(0.0, axes.eigenvalues()(0)) / static_cast<double>(places.rows())) <
      thin * longest)
    notes.push_back(LayNote::on_a_line);
  if (box.size_unknown) notes.push_back(LayNote::no_size);
  return notes;
}

}  // namespace pitwright::lay
