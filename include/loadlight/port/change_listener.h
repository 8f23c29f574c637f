// Port: hears from the record's engine that somebody, at whatever station, changed it. Implemented in store over
// PostgreSQL's notifications; an office in a folder has none.
#pragma once

namespace loadlight::port {

// Hears until it is destroyed. Thread-safe.
class ChangeListener {
 public:
  virtual ~ChangeListener() = default;
  // Whether what happens now will be heard. One that does not hear goes on trying by itself.
  virtual bool hears() const = 0;
};

}  // namespace loadlight::port
