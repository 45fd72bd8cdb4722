#pragma once

#include <array>
#include <filesystem>
#include <optional>
#include <vector>

#include "base/result.h"
#include "browning/color.h"
#include "browning/judge.h"
#include "browning/light.h"

namespace pitwright::photo {

/// A place in a photograph as it is shown upright: pixels from its left and its upper edge.
struct Pixel {
  double x, y;
};

/// Four corners: left back, right back, right front, left front, seen from the door.
using Quad = std::array<Pixel, 4>;

/// A card of known gray that lies in the light of the bread.
struct Card {
  Quad corners;
  double reflectance = 0.18;  ///< 0 to 1
};

/// Where the fall-off of the light is read: from what lies between the slices, from the cards, or
/// not at all.
enum class LightFrom { grate, cards, none };

/// What the photograph shows and where.
struct Scene {
  Quad grate;
  double width_m, depth_m;        ///< of the grate: left to right, door to back
  std::vector<Card> cards;        ///< the first one sets white and scale
  std::optional<Quad> untoasted;  ///< a slice that saw no heat
  LightFrom light = LightFrom::grate;
};

/// One slice found on the grate.
struct SeenSlice {
  double x_m, y_m;      ///< its middle, from the left end and from the door end of the grate
  double side_m;        ///< root of its area
  browning::Lab color;  ///< of its core, under even light; L* is its browning
  double lightness_sd;  ///< of L*: crumb, light and noise, not what differs from bread to bread
  double glare_share;   ///< of the core that shines and was left out, 0 to 1
  browning::Flaw flaw;  ///< glare, touching, cut_off or none; color is not judged here
};

struct SeenCard {
  double expected, seen;  ///< L* of its reflectance, L* as the first card and the light make it
};

/// What was read from a photograph.
struct Seen {
  int width_px = 0, height_px = 0;
  std::vector<SeenSlice> slices;  ///< row by row from the back, left to right
  std::vector<SeenCard> cards;
  std::optional<double> untoasted;         ///< L*
  LightFrom light_from = LightFrom::none;  ///< the one that was used
  browning::LightField light;
};

/// Whether this build can read photographs.
bool has_reader();

/// Finds the slices and how brown they are (docs/methods/toast.md).
/// Fails: unavailable where this build has no reader; not_found; bad_input for a file that is no
///        picture, one too small or too large, corners outside it or crossed, a card that is not
///        gray, too bright or too dark, a grate on which no slice is found.
Result<Seen> read_photo(const std::filesystem::path& path, const Scene& scene);

/// The photograph once more with grate, cards and the outline and number of every slice drawn in.
/// Fails like read_photo; unavailable where `out` cannot be written.
Result<void> draw_found(const std::filesystem::path& path, const Scene& scene, const Seen& seen,
                        const std::filesystem::path& out);

}  // namespace pitwright::photo
