#include "photo/photo.h"

#include <algorithm>
#include <cmath>

#include <opencv2/imgproc.hpp>

#include "photo/cores.h"
#include "photo/lighting.h"
#include "photo/picture.h"

namespace pitwright::photo {
namespace {

using browning::LightField;
using browning::LightSample;

constexpr double least_density = 200.0;  // pixels per metre: a slice of 9 cm is 18 pixels
constexpr double uneven_card = 0.15, dark_card = 0.004, clipped_card = 0.02, colored_card = 2.2;
constexpr double unlike_grate = 0.12;  // ln: what lies under the grate is no even material

Result<void> check_grate(const cv::Mat& picture, const Scene& scene, const std::string& file) {
  const auto fault = fault_of(scene.grate, picture.cols, picture.rows);
  if (!fault.empty()) return fail(ErrorKind::bad_input, "{}: grate: {}", file, fault);
  if (density_of(scene) < least_density)
    return fail(ErrorKind::bad_input,
                "{}: the grate takes too few pixels of the photograph "
                "({:.0f} per metre; {:.0f} are the least); go nearer",
                file, density_of(scene), least_density);
  return {};
}

/// Linear light of a card over its reflectance.
Result<cv::Vec3d> white_of(const cv::Mat& picture, const Card& card, const std::string& label) {
  const auto fault = fault_of(card.corners, picture.cols, picture.rows);
  if (!fault.empty()) return fail(ErrorKind::bad_input, "{}: {}", label, fault);
  const auto patch = patch_of(picture, card.corners, 1.0);
  const auto [least, most] =
      std::ranges::minmax({patch.linear[0], patch.linear[1], patch.linear[2]});
  if (patch.clipped_share > clipped_card)
    return fail(ErrorKind::bad_input,
                "{}: it shines or is overexposed ({:.0f} % of it at the "
                "camera's end); photograph it darker",
                label, 100.0 * patch.clipped_share);
  if (least < dark_card)
    return fail(ErrorKind::bad_input,
                "{}: it is too dark to measure against; give it the light "
                "of the bread",
                label);
  if (most > colored_card * least)
    return fail(ErrorKind::bad_input, "{}: what lies there is not gray; check its corners", label);
  if (patch.unevenness > uneven_card)
    return fail(ErrorKind::bad_input, "{}: what lies there is no even surface; check its corners",
                label);
  return patch.linear * (1.0 / card.reflectance);
}

Result<std::vector<cv::Vec3d>> whites_of(const cv::Mat& picture, const Scene& scene,
                                         const std::string& file) {
  if (scene.cards.empty())
    return fail(ErrorKind::bad_input, "{}: a gray card is needed to tell light from browning",
                file);
  std::vector<cv::Vec3d> whites;
  for (std::size_t k = 0; k < scene.cards.size(); ++k) {
    const auto label = fmt::format("{}: gray card {}", file, k + 1);
    const auto white = white_of(picture, scene.cards[k], label);
    if (!white) return std::unexpected(white.error());
    whites.push_back(*white);
  }
  return whites;
}

double luminance_of(const cv::Vec3d& bgr) {
  return browning::luminance({bgr[2], bgr[1], bgr[0]});
}

Pixel middle_of(const Quad& quad) {
  Pixel middle{0, 0};
  for (const auto& p : quad) middle = {middle.x + 0.25 * p.x, middle.y + 0.25 * p.y};
  return middle;
}

LightField field_of_cards(const Rectified& grate, const Scene& scene,
                          const std::vector<cv::Vec3d>& whites) {
  std::vector<LightSample> samples;
  // Three cards carry a plane; fit_light asks for four samples, so each is given twice.
  for (int twice = 0; twice < 2; ++twice) {
    for (std::size_t k = 0; k < whites.size(); ++k) {
      const auto at = grate.share_of(middle_of(scene.cards[k].corners));
      samples.push_back({at.x, at.y, std::log(luminance_of(whites[k]) / luminance_of(whites[0]))});
    }
  }
  if (whites.size() < 3) samples.resize(1);
  return browning::fit_light(samples);
}

/// The light from where the scene says, or from the next best where that is not to be had.
void choose_light(Seen& seen, const Rectified& grate, const Segments& segments, const Scene& scene,
                  const std::vector<cv::Vec3d>& whites) {
  seen.light_from = scene.light;
  if (scene.light == LightFrom::grate) {
    seen.light = browning::fit_light(table_samples(grate, segments.mask, segments.side));
    constexpr int fewest = 12;
    if (seen.light.samples >= fewest && seen.light.residual_sd < unlike_grate) return;
    seen.light_from = whites.size() > 2 ? LightFrom::cards : LightFrom::none;
  }
  if (seen.light_from == LightFrom::cards && whites.size() < 3) seen.light_from = LightFrom::none;
  seen.light = {};
  if (seen.light_from == LightFrom::cards) seen.light = field_of_cards(grate, scene, whites);
}

/// Row by row from the back, left to right; a row is what lies within half a slice in depth.
void put_in_order(std::vector<SeenSlice>& slices, double side_m) {
  std::ranges::sort(slices, std::greater{}, &SeenSlice::y_m);
  for (auto row = slices.begin(); row != slices.end();) {
    auto end = row;
    while (end != slices.end() && row->y_m - end->y_m < 0.5 * side_m) ++end;
    std::ranges::sort(row, end, std::less{}, &SeenSlice::x_m);
    row = end;
  }
}

double seen_lightness(const cv::Vec3d& reflectance, const Rectified& grate, const Quad& quad,
                      const EvenLight& light) {
  const auto at = grate.share_of(middle_of(quad));
  return browning::lightness(luminance_of(reflectance) / light.factor(at.x, at.y));
}

}  // namespace

bool has_reader() {
  return true;
}

Result<Seen> read_photo(const std::filesystem::path& path, const Scene& scene) {
  const auto file = path.string();
  const auto picture = load_picture(path);
  if (!picture) return std::unexpected(picture.error());
  if (const auto fine = check_grate(*picture, scene, file); !fine)
    return std::unexpected(fine.error());
  const auto whites = whites_of(*picture, scene, file);
  if (!whites) return std::unexpected(whites.error());
  if (scene.untoasted) {
    const auto fault = fault_of(*scene.untoasted, picture->cols, picture->rows);
    if (!fault.empty()) return fail(ErrorKind::bad_input, "{}: untoasted slice: {}", file, fault);
  }
  const auto grate = rectify(*picture, scene, whites->front());
  const auto segments = find_segments(grate);
  if (!segments) return fail(segments.error().kind, "{}: {}", file, segments.error().what);

  Seen seen;
  seen.width_px = picture->cols;
  seen.height_px = picture->rows;
  choose_light(seen, grate, *segments, scene, *whites);
  const auto card = grate.share_of(middle_of(scene.cards.front().corners));
  const EvenLight light{seen.light, seen.light.log_at(card.x, card.y)};
  for (const auto& one : segments->all)
    seen.slices.push_back(measure(grate, one, segments->side, light));
  put_in_order(seen.slices, segments->side / grate.pixels_per_m);
  const auto& white = whites->front();
  for (std::size_t k = 0; k < whites->size(); ++k) {
    const auto& c = scene.cards[k];
    cv::Vec3d as_seen;
    for (int i = 0; i < 3; ++i) as_seen[i] = (*whites)[k][i] * c.reflectance / white[i];
    seen.cards.push_back(
        {browning::lightness(c.reflectance), seen_lightness(as_seen, grate, c.corners, light)});
  }
  if (scene.untoasted) {
    auto bread = patch_of(*picture, *scene.untoasted, 1.0).linear;
    for (int i = 0; i < 3; ++i) bread[i] /= white[i];
    seen.untoasted = seen_lightness(bread, grate, *scene.untoasted, light);
  }
  return seen;
}

}  // namespace pitwright::photo
