#include "http/replies.h"
#include "resources/resources.h"

namespace pitwright::resources {

wire::Answer get_sheet(const Asked&) {
  return http::trouble(404, "soon");
}

}  // namespace pitwright::resources
