// What a browser sends around a page: forms and queries, cookies, paths to go on to, names of files.
//
// Promises: a form is bounded, UTF-8, and written again reads as the same fields; a cookie's name and value hold no
// separator; a path to go on to stays on the station; a file's name is one plain line of UTF-8 when it came as UTF-8.
#include "fuzz_input.h"
#include "vision/valid_utf8.h"
#include "web/cookies.h"
#include "web/local_path.h"
#include "web/posted_file.h"

namespace loadlight::fuzz {
namespace {

bool is_utf8(std::string_view text) {
  return vision::valid_utf8(text) == text;
}

void try_form(std::string_view text) {
  const auto fields = web::parse_form(text);
  if (!fields) return;
  promise(fields->all().size() <= 1000, "a form has an end");
  std::string again;
  for (const auto& [name, value] : fields->all()) {
    promise(is_utf8(name) && is_utf8(value), "fields are UTF-8");
    promise(name.size() + value.size() <= text.size(), "fields are no longer than what came");
    promise(fields->find(name).has_value() && !fields->values(name).empty(), "a field is found");
    again += "&" + web::url_escaped(name) + "=" + web::url_escaped(value);
  }
  const auto same = web::parse_form(again);
  promise(same && same->all() == fields->all(), "a form is written as it was read");
  promise(!web::parse_form(text, 0) || fields->all().empty(), "a bound holds");
}

void try_cookies(std::string_view text) {
  const web::Fields cookies = web::parse_cookies(text);
  for (const auto& [name, value] : cookies.all()) {
    promise(name.find_first_of("=;") == std::string::npos, "a cookie's name holds no separator");
    promise(value.find(';') == std::string::npos, "a cookie's value holds no separator");
  }
  const std::string_view browser = cookies.value(web::kBrowserCookie);
  if (!web::is_browser_name(browser)) return;
  const std::string set = web::browser_cookie(browser, true);
  promise(set.find_first_of("\r\n") == std::string::npos && set.find("HttpOnly") != std::string::npos, "a header is one line");
}

void try_path(std::string_view text) {
  const std::string path = web::local_path(text);
  promise(path.starts_with('/') && !path.starts_with("//"), "a path stays on the station");
  promise(path.find_first_of("\r\n\\ :?#%") == std::string::npos, "a path is a path and nothing else");
}

void try_file_name(std::string_view text) {
  const std::string name = web::plain_file_name(text);
  promise(!name.empty() && name.size() <= 100, "a file has a short name");
  promise(name.find_first_of("/\\\r\n") == std::string::npos, "a file's name is its last part, on one line");
  promise(!is_utf8(text) || is_utf8(name), "a character is not cut");
}

}  // namespace
}  // namespace loadlight::fuzz

int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const std::string_view text = loadlight::fuzz::Input{data, size}.rest();
  loadlight::fuzz::try_form(text);
  loadlight::fuzz::try_cookies(text);
  loadlight::fuzz::try_path(text);
  loadlight::fuzz::try_file_name(text);
  return 0;
}
