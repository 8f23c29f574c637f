// The text in a label's QR symbol.
//
//   package label = "LL1." fields ".Z" authenticator      at most 87 characters: fits version 5-Q
//   chart copy    = "LLC1." fields ".Z" authenticator     kept in a patient's chart; never clears a package
//   fields        = "S" package ".1T" sterilizer "-" load-number ".16D" date [ ".14D" date ]
//                   ".H" operator ".P" contents ".B" kind
//   package       = 10 characters, a PackageId
//   sterilizer    = 1-3 code characters      load-number = 1-99999, no leading zeros
//   date          = YYYYMMDD, a real day      (16D process date, 14D use-by; ANSI MH10.8.2 identifiers)
//   operator      = 1-4   contents = 1-8   kind = 1-3 code characters
//   code character = 0-9 A-Z
//   authenticator = 13 base32 characters: the first 65 bits of HMAC-SHA-256, under a key of the office,
//                   over every character before it
//   shelf tag     = "LLS1.L" location ".Z" authenticator
//   badge         = "LLO1.H" operator ".Z" authenticator
//
// Only characters of QR's alphanumeric set, none of them a control character or lower case, so that a
// keyboard-wedge reader passes them unharmed.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <variant>

#include "loadlight/core/dates.h"
#include "loadlight/core/names.h"

namespace loadlight::core {

inline constexpr std::size_t kAuthenticatorLength = 13;
inline constexpr std::size_t kLongestPayload = 87;

// What a package's label says. Codes are as checked by is_code().
struct LabelFields final {
  PackageId package;
  LoadName load;
  CivilDate process_date;             // 16D, the planned one
  std::optional<CivilDate> use_by;    // 14D; none under event-related shelf life
  std::string operator_code;
  std::string contents;
  std::string kind;

  friend bool operator==(const LabelFields&, const LabelFields&) = default;
};

enum class LabelForm { Package, ChartCopy };

// The text up to and with ".Z", over which the authenticator is computed.
std::string unsigned_payload(LabelForm form, const LabelFields& fields);
std::string unsigned_shelf_tag(std::string_view location);
std::string unsigned_badge(std::string_view operator_code);

// What a decoded text turns out to be. Nothing here says that it is authentic.
struct PackageLabelText final {
  LabelFields fields;
  std::string signed_part;    // everything before the authenticator
  std::string authenticator;  // 13 characters
};
struct ChartCopyText final {};
struct LaterFormText final {};  // one of ours by its beginning, of a form this program does not know
struct ShelfTagText final {
  std::string location;
  std::string signed_part;
  std::string authenticator;
};
struct BadgeText final {
  std::string operator_code;
  std::string signed_part;
  std::string authenticator;
};
struct NotOursText final {};
using PayloadText =
    std::variant<NotOursText, PackageLabelText, ChartCopyText, LaterFormText, ShelfTagText, BadgeText>;

// Reads any text; never fails, never throws. Exact: no case folding, no trimming.
PayloadText parse_payload(std::string_view text);

}  // namespace loadlight::core
