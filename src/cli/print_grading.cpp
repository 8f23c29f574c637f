#include "cli/print_grading.h"

#include <fmt/format.h>

namespace loadlight::cli {

Json grades_json(const core::PrintMeasures& measures) {
  const auto grades = core::grades_of(measures);
  Json list = Json::array();
  for (const core::ParameterGrade& each : grades) {
    list.push_back({{"parameter", core::to_text(each.parameter)},
                    {"value", each.value},
                    {"grade", core::letter_of(each.grade)}});
  }
  return {{"overall", core::letter_of(core::overall_grade(grades))},
          {"grades", std::move(list)},
          {"module_pixels", measures.module_pixels}};
}

std::string grades_text(const Context& context, const core::PrintMeasures& measures) {
  const auto grades = core::grades_of(measures);
  std::string details;
  for (const core::ParameterGrade& each : grades) {
    details += fmt::format("\n   {} {} ({:.2f})", core::letter_of(each.grade),
                           context.text("print-parameter." + std::string{core::to_text(each.parameter)}),
                           each.value);
  }
  constexpr double kEnough = 5;  // pixels a module, under which the camera is measured rather than the print
  const bool coarse = measures.module_pixels < kEnough;
  return context.text("grade.estimate",
                      {{"letter", std::string{core::letter_of(core::overall_grade(grades))}}}) +
         details + "\n   " + context.text("grade.caution") +
         (coarse ? "\n   " + context.text("grade.too-coarse") : "");
}

core::Result<app::TrialPicture> measure_picture(const SeeingLeaves& seeing, const std::string& path) {
  const core::Failure nothing{core::FailureCode::NothingMeasured, {{"path", path}}, {}};
  const auto picture = seeing.pictures->read_file(path);
  if (!picture) return picture.failure();
  const auto symbols = seeing.reader->read(picture->view());
  if (symbols.size() != 1) return nothing;
  const auto measures = seeing.reader->measure(picture->view(), symbols.front());
  if (!measures) return nothing;
  return app::TrialPicture{symbols.front().text, *measures};
}

}  // namespace loadlight::cli
