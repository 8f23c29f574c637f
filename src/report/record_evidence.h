// The evidence about a load as blocks of its record.
#pragma once

#include <vector>

#include "loadlight/report/load_record.h"

namespace loadlight::report {

void add_mechanical(const LoadRecordFacts& facts, const RecordNames& names, const Words& words,
                    std::vector<Block>& blocks);
void add_chemical(const LoadRecordFacts& facts, const RecordNames& names, const Words& words,
                  std::vector<Block>& blocks);
void add_biological(const LoadRecordFacts& facts, const RecordNames& names, const Words& words,
                    std::vector<Block>& blocks);

// A table whose headings are the words "record.column.<name>".
Table table_of(const Words& words, std::initializer_list<std::pair<const char*, double>> columns);

}  // namespace loadlight::report
