// Templates, words and invented labels for the tests of render.
#pragma once

#include <string>
#include <vector>

#include "loadlight/label/layout.h"

namespace loadlight::tests {

std::string file_text(const std::string& path);

// The names of all templates in templates/labels, sorted.
std::vector<std::string> template_names();
label::LabelTemplate read_template(const std::string& name);

// The draft or the English catalogue, read once.
const label::Words& english();

enum class Length { Usual, Longest };
enum class ShelfLife { UseBy, EventRelated };

// Label `number` (from 0) for a template's subject; payloads are well formed, their authenticators are not.
label::LabelContent sample_label(label::Subject subject, int number, Length length = Length::Usual,
                                 ShelfLife shelf_life = ShelfLife::UseBy);
std::vector<label::LabelContent> sample_labels(label::Subject subject, int count,
                                               Length length = Length::Usual,
                                               ShelfLife shelf_life = ShelfLife::UseBy);

}  // namespace loadlight::tests
