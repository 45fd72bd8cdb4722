#include "http/routes.h"

#include <gmock/gmock.h>

namespace pitwright::http {
namespace {

using access::Role;

const Route some[] = {{"GET", "/api/burns", Role::look, false, nullptr},
                      {"POST", "/api/burns", Role::own, false, nullptr},
                      {"GET", "/api/burns/{burn}/taps", Role::look, false, nullptr},
                      {"POST", "/api/burns/{burn}/taps/{tap}/undo", Role::tap, false, nullptr}};

TEST(Routes, are_found_by_method_and_path) {
  EXPECT_EQ(find_route(some, "GET", "/api/burns").route, &some[0]);
  EXPECT_EQ(find_route(some, "HEAD", "/api/burns").route, &some[0]);
  EXPECT_EQ(find_route(some, "POST", "/api/burns").route, &some[1]);
  const auto undo = find_route(some, "POST", "/api/burns/b 1/taps/t-2/undo");
  EXPECT_EQ(undo.route, &some[3]);
  EXPECT_EQ(undo.names.at("burn"), "b 1");
  EXPECT_EQ(undo.names.at("tap"), "t-2");
}

TEST(Routes, tell_a_wrong_method_from_a_wrong_path) {
  const auto wrong_method = find_route(some, "DELETE", "/api/burns");
  EXPECT_EQ(wrong_method.route, nullptr);
  EXPECT_EQ(wrong_method.allowed, "GET, POST");
  for (const char* path : {"/api/burns/", "/api", "/api/burns/a/taps/", "/api/burns//taps",
                           "/api/burns/a/taps/b", "/"})
    EXPECT_EQ(find_route(some, "GET", path).allowed, "") << path;
}

}  // namespace
}  // namespace pitwright::http
