#pragma once

#include "http/routes.h"

namespace pitwright::resources {

using http::Asked;
using http::Route;

/// Every path under /api/ that asks who is asking, in the order of docs/reference/api.openapi.json.
std::span<const Route> all_routes();

// One function a method of a path; docs/reference/api.openapi.json says what each takes and gives.

wire::Answer get_burns(const Asked&);
wire::Answer post_burns(const Asked&);
wire::Answer get_burn(const Asked&);
wire::Answer patch_burn(const Asked&);
wire::Answer get_fire(const Asked&);
wire::Answer get_call(const Asked&);
wire::Answer get_lay(const Asked&);
wire::Answer get_picture(const Asked&);
wire::Answer get_sheet(const Asked&);
wire::Answer get_samples(const Asked&);
wire::Answer post_readings(const Asked&);
wire::Answer get_taps(const Asked&);
wire::Answer post_taps(const Asked&);
wire::Answer post_undo(const Asked&);
wire::Answer get_live(const Asked&);
wire::Answer get_book(const Asked&);
wire::Answer post_book(const Asked&);
wire::Answer get_rules(const Asked&);
wire::Answer get_pits(const Asked&);
wire::Answer get_pit(const Asked&);
wire::Answer put_pit(const Asked&);
wire::Answer post_demo(const Asked&);

}  // namespace pitwright::resources
