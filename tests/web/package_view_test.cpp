#include "web/package_view.h"

#include <catch2/catch.hpp>

#include "loadlight/core/reasons.h"
#include "web/paper_world.h"

using namespace loadlight;
using core::Outcome;

TEST_CASE("each outcome has its own word and advice") {
  std::vector<std::string> words;
  for (const Outcome outcome : {Outcome::Clear, Outcome::Hold, Outcome::DoNotUse}) {
    const std::string code = web::code_text(outcome);
    CHECK(web::english().has("outcome." + code));
    CHECK(web::english().has("check.advice." + code));
    words.push_back(web::english().text("outcome." + code));
  }
  CHECK(words[0] != words[1]);
  CHECK(words[1] != words[2]);
}

TEST_CASE("a verdict of every reason is drawn as text with its advice and only Clear as clear") {
  const web::PaperWorld project;
  const web::PageTemplates pages{project.world(), web::english()};
  for (const char* outcome : {"clear", "hold", "do-not-use"}) {
    const web::View view{{"outcome", outcome},
                         {"clear", std::string{outcome} == "clear"},
                         {"hold", std::string{outcome} == "hold"},
                         {"do_not_use", std::string{outcome} == "do-not-use"},
                         {"outcome_word", outcome},
                         {"contents", "<Basic exam>"},
                         {"reasons", {{{"text", "<why>"}, {"action", "<do>"}}}}};
    const auto drawn = pages.render("parts/verdict", view);
    REQUIRE(drawn);
    CHECK((drawn->find("verdict clear") != std::string::npos) == (std::string{outcome} == "clear"));
    CHECK(drawn->find("&lt;why&gt;") != std::string::npos);
    CHECK(drawn->find("&lt;do&gt;") != std::string::npos);
    CHECK(drawn->find("&lt;Basic exam&gt;") != std::string::npos);
    CHECK(drawn->find("<why>") == std::string::npos);
  }
}
