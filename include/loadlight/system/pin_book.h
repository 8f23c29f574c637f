// The operators' PINs, kept in the office's folder as pins.json, readable and writable by its owner alone
// (0600). Of each PIN only its Argon2id hash is kept (RFC 9106), with how often a wrong one was tried since
// the last right one.
//
//   {"pins": [{"operator": "<code>", "hash": "<encoded hash>", "wrong": <count>,
//              "last_wrong": <milliseconds since 1970, UTC>}, ...]}
#pragma once

#include <memory>
#include <string>

#include "loadlight/port/pin_book.h"

namespace loadlight::system {

// Reads nothing yet; a file that is absent is a book without PINs. From the third wrong PIN in a row on each
// costs a wait: 1 second, then twice as long each time, up to 1,024 seconds.
std::unique_ptr<port::PinBook> open_pin_book(const std::string& office_folder);

}  // namespace loadlight::system
