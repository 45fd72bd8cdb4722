#pragma once

#include <functional>

#include "db/store.h"
#include "live/demo.h"
#include "live/worked.h"

namespace pitwright::http {

/// What the resources of one thread work with.
struct Desk {
  db::Store& store;
  live::Worked& worked;
  live::Demo& demo;
  std::function<db::Stamp()> now;  ///< the wall's clock; a test hands in its own
};

}  // namespace pitwright::http
