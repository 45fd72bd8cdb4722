#include "call/report.h"

#include <utility>

namespace pitwright::call {

std::string_view name_of(Word word) {
  switch (word) {
    case Word::clear:
      return "clear";
    case Word::no_odds:
      return "no odds";
    case Word::too_close:
      return "too close";
    case Word::not_yet:
      return "not yet";
    case Word::muddled:
      return "muddled";
  }
  std::unreachable();
}

std::string_view name_of(Axis axis) {
  switch (axis) {
    case Axis::left_right:
      return "left-right";
    case Axis::front_back:
      return "front-back";
    case Axis::top_bottom:
      return "top-bottom";
  }
  std::unreachable();
}

std::string_view name_of(StintState state) {
  switch (state) {
    case StintState::heating:
      return "heating";
    case StintState::settling:
      return "settling";
    case StintState::counting:
      return "counting";
    case StintState::closed:
      return "closed";
    case StintState::paused:
      return "paused";
    case StintState::spoiled:
      return "spoiled";
  }
  std::unreachable();
}

std::string_view name_of(TroubleKind kind) {
  switch (kind) {
    case TroubleKind::lid:
      return "lid";
    case TroubleKind::probe:
      return "probe";
    case TroubleKind::weather:
      return "weather";
    case TroubleKind::soak:
      return "soak";
    case TroubleKind::order:
      return "order";
    case TroubleKind::clock:
      return "clock";
  }
  std::unreachable();
}

}  // namespace pitwright::call
