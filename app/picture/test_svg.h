#pragma once

#include <map>
#include <string>
#include <string_view>
#include <vector>

#include <glib.h>
#include <gtest/gtest.h>

#include "picture/lettering.h"
#include "picture/svg.h"

namespace pitwright::picture::test {

/// One element as GLib's parser reads it.
struct Element {
  std::string name;
  std::map<std::string, std::string> attributes;
  std::string text;

  std::string get(const std::string& key) const {
    const auto found = attributes.find(key);
    return found == attributes.end() ? "" : found->second;
  }
  double number(const std::string& key) const { return std::stod(get(key)); }
};

struct Document {
  std::vector<Element> elements;
  std::vector<std::size_t> open;
  std::string error;  ///< why it is not well formed; empty: it is
};

inline void on_start(GMarkupParseContext*, const gchar* name, const gchar** keys,
                     const gchar** values, gpointer into, GError**) {
  auto& document = *static_cast<Document*>(into);
  Element element{name, {}, ""};
  for (; *keys != nullptr; ++keys, ++values) element.attributes[*keys] = *values;
  document.open.push_back(document.elements.size());
  document.elements.push_back(element);
}

inline void on_end(GMarkupParseContext*, const gchar*, gpointer into, GError**) {
  static_cast<Document*>(into)->open.pop_back();
}

inline void on_text(GMarkupParseContext*, const gchar* text, gsize length, gpointer into,
                    GError**) {
  auto& document = *static_cast<Document*>(into);
  if (!document.open.empty()) document.elements[document.open.back()].text.append(text, length);
}

inline Document parsed(const std::string& svg) {
  Document document;
  const GMarkupParser parser = {&on_start, &on_end, &on_text, nullptr, nullptr};
  auto* context = g_markup_parse_context_new(&parser, GMarkupParseFlags{}, &document, nullptr);
  GError* error = nullptr;
  if (g_markup_parse_context_parse(context, svg.data(), static_cast<gssize>(svg.size()), &error) ==
          FALSE ||
      g_markup_parse_context_end_parse(context, &error) == FALSE) {
    document.error = error->message;
    g_error_free(error);
  }
  g_markup_parse_context_free(context);
  return document;
}

inline std::vector<Element> all_of(const Document& document, std::string_view name) {
  std::vector<Element> found;
  for (const auto& element : document.elements) {
    if (element.name == name) found.push_back(element);
  }
  return found;
}

inline Box box_of(const Element& text) {
  Lettering letters;
  letters.size = text.number("font-size");
  letters.bold = text.get("font-weight") == "bold";
  const auto anchor = text.get("text-anchor");
  if (anchor == "middle") letters.anchor = Anchor::middle;
  if (anchor == "end") letters.anchor = Anchor::end;
  return text_box(text.text, {text.number("x"), text.number("y")}, letters);
}

inline bool has_text(const Document& document, std::string_view wanted) {
  for (const auto& element : all_of(document, "text")) {
    if (element.text.find(wanted) != std::string::npos) return true;
  }
  return false;
}

/// What holds of every picture: well formed, named for those who cannot see it, ids unique and
/// found where they are called, lettering large enough, on the page, and no text over another.
inline void expect_sound(const Picture& picture, const std::string& which,
                         double smallest = smallest_lettering) {
  SCOPED_TRACE(which);
  const auto document = parsed(picture.svg);
  ASSERT_EQ(document.error, "");
  const auto& root = document.elements.front();
  EXPECT_EQ(root.get("role"), "img");
  std::map<std::string, int> ids;
  for (const auto& element : document.elements) {
    if (!element.get("id").empty()) ++ids[element.get("id")];
    for (const auto& [key, value] : element.attributes) {
      const auto at = value.find("url(#");
      if (at == std::string::npos) continue;
      const auto called = value.substr(at + 5, value.find(')') - at - 5);
      EXPECT_NE(picture.svg.find("id=\"" + called + "\""), std::string::npos) << called;
    }
  }
  for (const auto& [id, count] : ids) {
    EXPECT_EQ(count, 1) << id;
    EXPECT_TRUE(id.starts_with(root.get("id"))) << id << " could clash with another picture";
  }
  EXPECT_EQ(root.get("aria-labelledby"), root.get("id") + "-title " + root.get("id") + "-desc");
  EXPECT_FALSE(all_of(document, "title").front().text.empty());
  EXPECT_FALSE(all_of(document, "desc").front().text.empty());
  const auto texts = all_of(document, "text");
  for (std::size_t i = 0; i < texts.size(); ++i) {
    const auto box = box_of(texts[i]);
    EXPECT_GE(texts[i].number("font-size"), smallest) << texts[i].text;
    EXPECT_TRUE(box.x >= 0.0 && box.y >= 0.0 && box.right() <= picture.width + 0.5 &&
                box.bottom() <= picture.height)
        << "'" << texts[i].text << "' leaves the page";
    for (std::size_t k = i + 1; k < texts.size(); ++k) {
      EXPECT_FALSE(overlap(box, box_of(texts[k])))
          << "'" << texts[i].text << "' covers '" << texts[k].text << "'";
    }
  }
}

}  // namespace pitwright::picture::test
