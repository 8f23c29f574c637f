// Says what a text is: label_reader TEXT.
#include <iostream>
#include <variant>

#include <loadlight/core/payload.h>

namespace core = loadlight::core;

int main(int count, char** arguments) {
  const auto read = core::parse_payload(count > 1 ? arguments[1] : "");
  if (const auto* label = std::get_if<core::PackageLabelText>(&read)) {
    std::cout << label->fields.package.grouped() << ' ' << label->fields.load.text() << ' '
              << label->fields.process_date.iso() << '\n';
  } else {
    std::cout << "no package label\n";
  }
}
