// Photographs on pages: a JPEG's own bytes stand in the PDF, and what is none is left out.
#include <catch2/catch.hpp>

#include "loadlight/render/render.h"
#include "render/jpeg_size.h"
#include "render/printed_sheet.h"

namespace loadlight::tests {
namespace {

std::string photograph() {
  return file_text(LOADLIGHT_SOURCE_DIR "/samples/pictures/sheet-as-seen.jpg");
}

std::string pdf_with(const std::string& jpeg) {
  label::Page page{210, 297, {}};
  page.items.emplace_back(label::DrawnPicture{20, 20, 90, 62, jpeg, 900, 620});
  page.items.emplace_back(
      label::DrawnOutline{{{30, 30}, {60, 30}, {60, 60}}, 1.2, {}, false, label::Ink::White});
  page.items.emplace_back(
      label::DrawnOutline{{{30, 30}, {60, 30}, {60, 60}}, 0.4, {1, 0.5}, false, label::Ink::Black});
  auto pdf = render::make_press()->print({page}, core::instant_from(0));
  REQUIRE(pdf);
  return *std::move(pdf);
}

TEST_CASE("A photograph stands in the PDF with the very bytes of its file") {
  const WorkFolder folder;
  const std::string jpeg = photograph(), pdf = pdf_with(jpeg);
  CHECK(pdf.find(jpeg) != std::string::npos);
  const std::string file = folder.write("picture.pdf", pdf);
  const std::string list = run_or_throw("pdfimages -list " + file);
  CHECK(list.find("jpeg") != std::string::npos);
  run_or_throw("pdfimages -all " + file + " " + folder.path("taken"));
  CHECK(file_text(folder.path("taken-000.jpg")) == jpeg);
  CHECK(run("qpdf --check " + file).status == 0);
}

TEST_CASE("The same photograph prints the same bytes") {
  CHECK(pdf_with(photograph()) == pdf_with(photograph()));
}

TEST_CASE("What is no whole JPEG file is left out, and the page is printed") {
  const std::string jpeg = photograph();
  for (const std::string& bytes : {std::string{}, std::string{"\xFF\xD8"}, std::string{"\xFF\xD8\xFF\xD9"},
                                   std::string(5000, '\0'), jpeg.substr(0, jpeg.size() / 2), jpeg.substr(1),
                                   jpeg.substr(0, 20) + "\xFF\xD9", std::string{"\x89PNG\r\n"}}) {
    CAPTURE(bytes.size());
    CHECK_FALSE(render::jpeg_size(bytes));
    const WorkFolder folder;
    const std::string file = folder.write("none.pdf", pdf_with(bytes));
    CHECK(run("qpdf --check " + file).status == 0);
    CHECK(run_or_throw("pdfimages -list " + file).find("jpeg") == std::string::npos);
  }
}

TEST_CASE("A JPEG file's size is read from its frame, wherever a cut leaves it") {
  const std::string jpeg = photograph();
  REQUIRE(render::jpeg_size(jpeg));
  CHECK(render::jpeg_size(jpeg)->width == 900);
  CHECK(render::jpeg_size(jpeg)->height == 620);
  for (std::size_t length = 0; length < 700; ++length) {
    const auto size = render::jpeg_size(jpeg.substr(0, length) + "\xFF\xD9");
    CHECK((!size || (size->width > 0 && size->height > 0)));
  }
}

}  // namespace
}  // namespace loadlight::tests
