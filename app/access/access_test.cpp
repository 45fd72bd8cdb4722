#include <filesystem>
#include <fstream>
#include <set>

#include <gmock/gmock.h>
#include <sys/stat.h>

#include "access/gate.h"
#include "access/tokens.h"

namespace pitwright::access {
namespace {

using std::chrono::minutes;
using std::chrono::seconds;
using testing::HasSubstr;

class InFolder : public testing::Test {
 protected:
  InFolder() : folder(std::filesystem::temp_directory_path() / ("access-" + new_token())) {
    std::filesystem::create_directory(folder);
  }
  ~InFolder() override { std::filesystem::remove_all(folder); }
  std::filesystem::path folder;
};

using People = InFolder;

TEST(Tokens, are_long_and_never_the_same) {
  std::set<std::string> seen;
  for (int i = 0; i < 1000; ++i) {
    const auto token = new_token();
    EXPECT_EQ(token.size(), 43u);
    EXPECT_EQ(
        token.find_first_not_of("ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_"),
        std::string::npos);
    EXPECT_TRUE(seen.insert(token).second);
  }
}

// Source: FIPS 180-2, appendix B.1.
TEST(Tokens, have_the_published_digest) {
  EXPECT_EQ(digest_of("abc"), "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
}

TEST(Tokens, are_the_same_only_if_all_of_them_is) {
  EXPECT_TRUE(is_same("abc", "abc"));
  EXPECT_FALSE(is_same("abc", "abd"));
  EXPECT_FALSE(is_same("abc", "abcabc"));
  EXPECT_FALSE(is_same("abcabc", "abc"));
  EXPECT_FALSE(is_same("a", ""));
  EXPECT_TRUE(is_same("", ""));
}

TEST_F(People, who_are_invited_are_read_back_and_only_their_digest_is_kept) {
  const auto file = folder / "people.toml";
  const auto ann = invite(file, "Ann \"Smoke\" \\", Role::tap);
  ASSERT_TRUE(ann) << ann.error().what;
  const auto bob = invite(file, "Bob", Role::own);
  ASSERT_TRUE(bob);
  const auto people = read_people(file);
  ASSERT_TRUE(people) << people.error().what;
  ASSERT_EQ(people->size(), 2u);
  EXPECT_EQ((*people)[0].name, "Ann \"Smoke\" \\");
  EXPECT_EQ((*people)[0].role, Role::tap);
  EXPECT_EQ((*people)[0].digest, digest_of(*ann));
  std::stringstream text;
  text << std::ifstream(file).rdbuf();
  EXPECT_EQ(text.str().find(*ann), std::string::npos);
  EXPECT_EQ(invite(file, "Bob", Role::look).error().kind, ErrorKind::conflict);
}

TEST_F(People, file_that_others_may_read_is_refused) {
  const auto file = folder / "people.toml";
  ASSERT_TRUE(invite(file, "Ann", Role::tap));
  ::chmod(file.c_str(), 0644);
  EXPECT_THAT(read_people(file).error().what, HasSubstr("chmod 600"));
}

TEST_F(People, mistakes_are_told_with_their_place) {
  const auto file = folder / "people.toml";
  std::ofstream(file) << "[[person]]\nname = \"Ann\"\nrole = \"boss\"\ntoken_sha256 = \"12\"\n";
  ::chmod(file.c_str(), 0600);
  EXPECT_THAT(read_people(file).error().what, HasSubstr("people.toml:3:"));
}

wire::Request asking(std::map<std::string, std::string> headers,
                     const std::string& method = "GET") {
  wire::Request request;
  request.method = method;
  request.headers = std::move(headers);
  request.headers.try_emplace("host", "pit.local:8080");
  request.peer = "192.0.2.7";
  return request;
}

int status_of(const std::variant<Visitor, Turned>& answer) {
  const auto* turned = std::get_if<Turned>(&answer);
  return turned ? turned->status : 200;
}

struct Guarded {
  std::string token = new_token();
  Gate gate{
      {.people = {{"Ann", Role::tap, digest_of(token)}, {"Bob", Role::own, digest_of("other")}},
       .hosts = {"pit.local", "[::1]"},
       .tries_a_minute = 3}};
  Gate::Clock::time_point now = Gate::Clock::now();
};

TEST(Gate, knows_people_by_bearer_and_by_cookie) {
  Guarded it;
  for (const auto& headers :
       {std::map<std::string, std::string>{{"authorization", "Bearer " + it.token}},
        {{"cookie", "a=b; pitwright=" + it.token + "; c=d"}}}) {
    const auto answer = it.gate.visitor(asking(headers), it.now);
    ASSERT_EQ(status_of(answer), 200);
    EXPECT_EQ(std::get<Visitor>(answer).name, "Ann");
    EXPECT_EQ(std::get<Visitor>(answer).role, Role::tap);
  }
  EXPECT_EQ(status_of(it.gate.visitor(asking({}), it.now)), 401);
  EXPECT_EQ(status_of(it.gate.visitor(asking({{"cookie", "xpitwright=" + it.token}}), it.now)),
            401);
}

TEST(Gate, goes_by_its_own_names_only) {
  Guarded it;
  const auto bearer = "Bearer " + it.token;
  for (const char* host : {"pit.local", "pit.local:8080", "[::1]:8080", "[::1]"})
    EXPECT_EQ(
        status_of(it.gate.visitor(asking({{"host", host}, {"authorization", bearer}}), it.now)),
        200)
        << host;
  for (const char* host : {"evil.example", "", "pit.local.evil.example", "[::2]:8080"})
    EXPECT_EQ(
        status_of(it.gate.visitor(asking({{"host", host}, {"authorization", bearer}}), it.now)),
        400)
        << host;
}

TEST(Gate, lets_no_other_page_change_anything) {
  Guarded it;
  const auto from = [&](const std::string& origin, const std::string& method) {
    return status_of(it.gate.visitor(
        asking({{"origin", origin}, {"authorization", "Bearer " + it.token}}, method), it.now));
  };
  EXPECT_EQ(from("http://pit.local:8080", "POST"), 200);
  EXPECT_EQ(from("https://pit.local:8080", "POST"), 200);
  EXPECT_EQ(from("http://evil.example", "POST"), 403);
  EXPECT_EQ(from("http://pit.local:9090", "PUT"), 403);
  EXPECT_EQ(from("null", "POST"), 403);
  EXPECT_EQ(from("http://evil.example", "GET"), 200)
      << "reading is kept from other pages by the browser";
}

TEST(Gate, bars_an_address_that_guesses_and_forgives_after_a_minute) {
  Guarded it;
  for (int i = 0; i < 3; ++i)
    EXPECT_EQ(status_of(it.gate.enter("wrong", "192.0.2.7", it.now)), 401);
  EXPECT_EQ(status_of(it.gate.enter("wrong", "192.0.2.7", it.now)), 429);
  EXPECT_EQ(status_of(it.gate.enter(it.token, "192.0.2.7", it.now)), 200)
      << "others may share the address of who guesses; a token has 256 bits";
  EXPECT_EQ(status_of(it.gate.enter(it.token, "192.0.2.8", it.now)), 200);
  EXPECT_EQ(status_of(it.gate.enter("wrong", "192.0.2.7", it.now + minutes(1))), 401);
}

TEST(Gate, without_people_is_open_but_still_minds_host_and_origin) {
  Gate gate({.people = {}, .hosts = {"localhost"}});
  const auto now = Gate::Clock::now();
  EXPECT_EQ(std::get<Visitor>(gate.visitor(asking({{"host", "localhost:1"}}), now)).role,
            Role::own);
  EXPECT_EQ(status_of(gate.visitor(asking({{"host", "evil.example"}}), now)), 400);
  EXPECT_EQ(status_of(gate.visitor(
                asking({{"host", "localhost"}, {"origin", "http://evil.example"}}, "POST"), now)),
            403);
}

}  // namespace
}  // namespace pitwright::access
