#pragma once

#include <string>
#include <string_view>

#include "base/result.h"
#include "wire/exchange.h"

namespace pitwright::http {

/// A JSON document as an answer; never kept by a cache.
wire::Response json_reply(std::string json, int status = 200);

/// The Trouble of docs/reference/api.openapi.json.
wire::Response trouble(int status, std::string_view text);

/// The same from a failure: 400 bad_input, 404 not_found, 409 conflict, 507 unavailable.
wire::Response trouble(const Error& error);

/// Puts on every answer what a browser must mind: no sniffing, no frames, nothing from elsewhere.
/// Source: OWASP Secure Headers Project; Content Security Policy Level 3 (W3C).
void secure(wire::Response& response);

/// The same headers for a stream.
void secure(wire::Subscription& subscription);

}  // namespace pitwright::http
