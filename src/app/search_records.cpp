#include "loadlight/app/search_records.h"

#include <algorithm>
#include <charconv>

#include "loadlight/app/package_reference.h"

namespace loadlight::app {
namespace {

using core::Result;

constexpr std::size_t kMostNames = 5;       // contents or operators that one text may mean
constexpr std::size_t kShortestPart = 3;    // characters of an id
constexpr std::size_t kShortestOfName = 2;  // characters of a name

std::string upper(std::string_view text) {
  std::string result{text};
  for (char& c : result) {
    if (c >= 'a' && c <= 'z') c = static_cast<char>(c - 'a' + 'A');
  }
  return result;
}

std::string_view trimmed(std::string_view text) {
  constexpr std::string_view kBlank = " \t\r\n";
  const auto first = text.find_first_not_of(kBlank);
  if (first == std::string_view::npos) return {};
  return text.substr(first, text.find_last_not_of(kBlank) + 1 - first);
}

// What was typed of an id, as ids are written: hyphens and blanks left out, look-alikes put right. Nothing when
// it cannot stand in one.
std::optional<std::string> part_of_id(std::string_view text) {
  std::string part;
  for (char c : upper(text)) {
    if (c == '-' || c == ' ') continue;
    if (c == 'I' || c == 'L') c = '1';
    if (c == 'O') c = '0';
    const bool stands = (c >= '0' && c <= '9') || (c >= 'A' && c <= 'Z' && c != 'U');
    if (!stands) return std::nullopt;
    part += c;
  }
  if (part.size() < kShortestPart || part.size() >= core::PackageId::kLength) return std::nullopt;
  return part;
}

std::optional<int> number_in(std::string_view text) {
  int number = 0;
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), number);
  const bool whole = error == std::errc{} && end == text.data() + text.size();
  return whole && number >= 1 && number <= core::LoadName::kLastNumber ? std::optional{number} : std::nullopt;
}

struct Named final {
  std::string code;
  std::string name;
};

// The code itself, or every row in whose name the text stands.
template <class T>
std::vector<Named> meant_in(const std::vector<T>& rows, std::string_view text) {
  const std::string wanted = upper(text);
  std::vector<Named> meant;
  for (const T& row : rows) {
    const bool by_name = wanted.size() >= kShortestOfName && upper(row.name).find(wanted) != std::string::npos;
    if (row.code == wanted || by_name) meant.push_back({row.code, row.name});
  }
  return meant;
}

class Search final {
 public:
  Search(const Ports& ports, const port::Unit& unit, const RecordsRequest& request)
      : ports_(ports), unit_(unit), request_(request), text_(trimmed(request.text)) {}

  Result<RecordsReply> run();

 private:
  // One group; nothing is added when nothing is found.
  Result<void> add_packages(FoundBy by, const port::PackageSearch& search, Named of = {});
  Result<void> add_loads(FoundBy by, const port::LoadSearch& search, Named of = {});
  Result<void> add_itself();
  Result<void> add_named_loads();
  Result<void> add_by_marks();
  Result<void> add_by_contents();
  Result<void> add_by_operator();
  Result<void> add_by_days();

  bool is_wanted(FoundBy by, const std::string& of) const {
    return !request_.only || (*request_.only == by && request_.only_of == of);
  }
  port::SearchPage page() const { return {request_.skip, kFoundAtOnce + 1}; }
  port::PackageSearch in_span() const {
    port::PackageSearch search;
    search.first = first_;
    search.last = last_;
    return search;
  }
  port::LoadSearch loads_in_span() const { return {{}, {}, {}, first_, last_}; }
  std::vector<Named> few(std::vector<Named> meant);

  const Ports& ports_;
  const port::Unit& unit_;
  const RecordsRequest& request_;
  std::string text_;
  std::optional<core::CivilDate> first_, last_;
  RecordsReply reply_;
};

template <class T>
bool cut(std::vector<T>& found) {
  const bool more = found.size() > kFoundAtOnce;
  if (more) found.erase(found.begin() + kFoundAtOnce, found.end());
  return more;
}

Result<void> Search::add_packages(FoundBy by, const port::PackageSearch& search, Named of) {
  if (!is_wanted(by, of.code)) return {};
  auto found = unit_.packages().search(search, page());
  if (!found) return found.failure();
  if (found->empty()) return {};
  const bool more = cut(*found);
  reply_.groups.push_back({by, of.code, of.name, std::move(*found), {}, request_.skip, more});
  return {};
}

Result<void> Search::add_loads(FoundBy by, const port::LoadSearch& search, Named of) {
  if (!is_wanted(by, of.code)) return {};
  auto found = unit_.loads().search(search, page());
  if (!found) return found.failure();
  if (found->empty()) return {};
  const bool more = cut(*found);
  reply_.groups.push_back({by, of.code, of.name, {}, std::move(*found), request_.skip, more});
  return {};
}

std::vector<Named> Search::few(std::vector<Named> meant) {
  if (meant.size() > kMostNames) {
    reply_.too_many_names = true;
    meant.resize(kMostNames);
  }
  return meant;
}

// A label that no key of ours made names nothing here: a check says what it is.
Result<void> Search::add_itself() {
  const auto id = package_id_of(ports_, text_);
  if (!id || !is_wanted(FoundBy::Package, "")) return {};
  const auto package = unit_.packages().find(*id);
  if (!package) return package.failure();
  if (*package) reply_.groups.push_back({FoundBy::Package, "", "", {**package}, {}, 0, false});
  return {};
}

Result<void> Search::add_named_loads() {
  if (const auto name = core::LoadName::parse(upper(text_))) {
    return add_loads(FoundBy::Load, {name->sterilizer, name->number, {}, {}, {}});
  }
  if (const auto number = number_in(text_)) {
    port::LoadSearch search = loads_in_span();
    search.number = number;
    if (auto added = add_loads(FoundBy::Load, search); !added) return added;
  }
  const auto sterilizers = unit_.sterilizers().all();
  if (!sterilizers) return sterilizers.failure();
  for (const Named& each : few(meant_in(*sterilizers, text_))) {
    port::LoadSearch search = loads_in_span();
    search.sterilizer = each.code;
    if (auto added = add_loads(FoundBy::Load, search, each); !added) return added;
  }
  return {};
}

Result<void> Search::add_by_marks() {
  if (core::is_visit_reference(upper(text_))) {
    port::PackageSearch search = in_span();
    search.visit = upper(text_);
    if (auto added = add_packages(FoundBy::Visit, search); !added) return added;
  }
  const auto part = part_of_id(text_);
  if (!part) return {};
  port::PackageSearch search = in_span();
  search.id_part = *part;
  return add_packages(FoundBy::IdPart, search);
}

Result<void> Search::add_by_contents() {
  const auto contents = unit_.contents().all();
  if (!contents) return contents.failure();
  for (const Named& each : few(meant_in(*contents, text_))) {
    port::PackageSearch search = in_span();
    search.contents = each.code;
    if (auto added = add_packages(FoundBy::Contents, search, each); !added) return added;
  }
  return {};
}

Result<void> Search::add_by_operator() {
  const auto people = unit_.operators().all();
  if (!people) return people.failure();
  for (const Named& each : few(meant_in(*people, text_))) {
    port::PackageSearch search = in_span();
    search.operator_code = each.code;
    if (auto added = add_packages(FoundBy::Operator, search, each); !added) return added;
    port::LoadSearch decided = loads_in_span();
    decided.decided_by = each.code;
    if (auto added = add_loads(FoundBy::Decider, decided, each); !added) return added;
  }
  return {};
}

Result<void> Search::add_by_days() {
  if (auto added = add_loads(FoundBy::LoadDays, loads_in_span()); !added) return added;
  return add_packages(FoundBy::PackageDays, in_span());
}

Result<RecordsReply> Search::run() {
  first_ = request_.first;
  last_ = request_.last;
  if (first_ && last_ && *last_ < *first_) {
    return core::Failure{core::FailureCode::BadValue, {{"field", "from"}, {"given", first_->iso()}}, {}};
  }
  if (const auto day = core::CivilDate::parse_iso(text_)) {
    first_ = last_ = day;
    text_.clear();
  }
  if (text_.empty()) {
    if (!first_ && !last_) return std::move(reply_);
    if (auto added = add_by_days(); !added) return added.failure();
    return std::move(reply_);
  }
  for (const auto step : {&Search::add_itself, &Search::add_named_loads, &Search::add_by_marks,
                          &Search::add_by_contents, &Search::add_by_operator}) {
    if (auto added = (this->*step)(); !added) return added.failure();
  }
  return std::move(reply_);
}

}  // namespace

Result<RecordsReply> search_records(const Ports& ports, const port::Unit& unit, const RecordsRequest& request) {
  return Search{ports, unit, request}.run();
}

}  // namespace loadlight::app
