#include "web/page_templates.h"

#include <unistd.h>

#include <catch2/catch.hpp>

#include <filesystem>
#include <fstream>
#include <vector>

#include "web/paper_world.h"

using namespace loadlight;
using web::PageTemplates;
using web::PaperWorld;
using web::View;

namespace {

namespace fs = std::filesystem;

// Templates of this test alone.
class OwnTemplates final {
 public:
  OwnTemplates() : folder_(fs::path{LOADLIGHT_BINARY_DIR} / ("page-templates-test-" + std::to_string(::getpid()))) {
    fs::remove_all(folder_);
    fs::create_directories(folder_ / "web/parts");
    world_ = std::make_unique<PaperWorld>(folder_.string());
    pages_ = std::make_unique<PageTemplates>(world_->world(), web::english());
  }
  ~OwnTemplates() { fs::remove_all(folder_); }

  void write(const std::string& name, const std::string& text) { std::ofstream{folder_ / "web" / (name + ".html")} << text; }
  std::string render(const std::string& text, const View& view) {
    const std::string name = "page" + std::to_string(++pages_made_);
    write(name, text);
    const auto page = pages_->render(name, view);
    return page ? *page : "refused: " + page.failure().details.back().second;
  }
  const PageTemplates& pages() const { return *pages_; }

 private:
  fs::path folder_;
  std::unique_ptr<PaperWorld> world_;
  std::unique_ptr<PageTemplates> pages_;
  int pages_made_ = 0;
};

std::vector<std::string> names_of_templates() {
  const fs::path web = fs::path{LOADLIGHT_SOURCE_DIR} / "templates/web";
  std::vector<std::string> names;
  for (const auto& entry : fs::recursive_directory_iterator{web}) {
    if (entry.path().extension() != ".html") continue;
    names.push_back(fs::relative(entry.path(), web).replace_extension().string());
  }
  return names;
}

std::vector<std::string> languages() {
  std::vector<std::string> codes;
  for (const auto& entry : fs::directory_iterator{fs::path{LOADLIGHT_SOURCE_DIR} / "templates/words"}) {
    if (entry.path().extension() == ".json") codes.push_back(entry.path().stem());
  }
  return codes;
}

}  // namespace

TEST_CASE("values are escaped wherever they stand") {
  OwnTemplates own;
  const View view{{"bad", "<b title=\"x\" id='y'>&amp;</b>"}, {"list", {"<i>", "&"}}};
  CHECK(own.render("<p title=\"{{bad}}\">{{bad}}</p>", view) ==
        "<p title=\"&lt;b title=&quot;x&quot; id=&#39;y&#39;&gt;&amp;amp;&lt;/b&gt;\">"
        "&lt;b title=&quot;x&quot; id=&#39;y&#39;&gt;&amp;amp;&lt;/b&gt;</p>");
  CHECK(own.render("{{#list}}{{.}},{{/list}}", view) == "&lt;i&gt;,&amp;,");
}

TEST_CASE("a value is never read as a template or a word or a part") {
  OwnTemplates own;
  own.write("parts/secret", "secret");
  for (const char* value : {"{{x}}", "{{> parts/secret}}", "[[outcome.clear]]", "{{=<% %>=}}", "{{#v}}"}) {
    CHECK(own.render("{{v}}", View{{"v", value}, {"x", "shown"}}) == web::html_escaped(value));
  }
  CHECK(own.render("{{v}}", View{{"v", std::string{"a\0b\x1b", 4}}}) == "a b ");
}

TEST_CASE("tags that would not escape are refused in parts as well") {
  OwnTemplates own;
  own.write("parts/raw", "{{{x}}}");
  for (const char* page : {"{{{x}}}", "{{&x}}", "{{ & x}}", "{{\n{x}}}", "{{=% %=}}%&x%", "{{ =% %=}}%&x%"}) {
    CHECK(own.render(page, View::object()) == "refused: {{{, {{&, {{=");
  }
  CHECK(own.render("{{> parts/raw}}", View::object()) == "refused: {{{, {{&, {{=");
}

TEST_CASE("a word that no catalogue has is refused and so is one without an end") {
  OwnTemplates own;
  CHECK(own.render("[[outcome.clear]]", View::object()) == web::html_escaped(web::english().text("outcome.clear")));
  CHECK(own.render("[[no.such.word]]", View::object()) == "refused: no.such.word");
  CHECK(own.render("[[outcome.clear", View::object()) == "refused: [[");
}

TEST_CASE("an empty text shows no section while numbers and lists show theirs") {
  OwnTemplates own;
  const View view{{"empty", ""}, {"none", nullptr}, {"no", false}, {"number", 7}, {"nobody", View::array()}};
  CHECK(own.render("{{#empty}}a{{/empty}}{{#none}}b{{/none}}{{#no}}c{{/no}}{{#nobody}}d{{/nobody}}{{^empty}}e{{/empty}}",
                   view) == "e");
  CHECK(own.render("{{number}}", view) == "7");
}

TEST_CASE("parts within parts are put in place but not without end") {
  OwnTemplates own;
  own.write("parts/inner", "inner {{x}}");
  own.write("parts/outer", "[{{>parts/inner}}]");
  own.write("parts/self", "{{> parts/self}}");
  CHECK(own.render("{{> parts/outer}}", View{{"x", "<"}}) == "[inner &lt;]");
  CHECK(own.render("{{> parts/self}}", View::object()) == "refused: {{>");
  CHECK_FALSE(own.pages().render("absent", View::object()));
  CHECK_FALSE(own.pages().render("../words/en", View::object()));
}

TEST_CASE("every template of the project is drawn in every language") {
  const PaperWorld project;
  REQUIRE(names_of_templates().size() > 8);
  REQUIRE_FALSE(languages().empty());
  for (const std::string& language : languages()) {
    const report::Words words = project.words(language);
    const PageTemplates pages{project.world(), words};
    for (const std::string& name : names_of_templates()) {
      if (name == "parts/frame") continue;
      const bool is_page = name.starts_with("pages/");
      const auto drawn = is_page ? pages.render_page(name, View::object()) : pages.render(name, View::object());
      INFO(language << " " << name << " " << (drawn ? "" : drawn.failure().details.back().second));
      REQUIRE(drawn);
      CHECK(drawn->find("[[") == std::string::npos);
      CHECK(drawn->find("«") == std::string::npos);
    }
  }
}

TEST_CASE("no template holds a script or a style of its own") {
  for (const std::string& name : names_of_templates()) {
    std::ifstream in{fs::path{LOADLIGHT_SOURCE_DIR} / "templates/web" / (name + ".html")};
    const std::string text{std::istreambuf_iterator<char>{in}, {}};
    INFO(name);
    CHECK(text.find(" style=") == std::string::npos);
    CHECK(text.find("<style") == std::string::npos);
    CHECK(text.find(" onclick=") == std::string::npos);
    for (auto at = text.find("<script"); at != std::string::npos; at = text.find("<script", at + 1)) {
      CHECK(text.substr(at, text.find('>', at) - at).find(" src=\"/static/") != std::string::npos);
    }
  }
}
