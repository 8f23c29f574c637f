// One request as a page meets it: what was asked, by whom, in which language, and how to answer.
#pragma once

#include <chrono>
#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "loadlight/core/office.h"
#include "web/desk.h"
#include "web/http_message.h"

namespace loadlight::web {

struct Visit final {
  const Request& request;
  Desk& desk;
  const Language& language;
  std::string cookie;                  // the browser's name
  std::optional<core::Operator> who;  // signed in, as the record has it now
  bool by_pin = false;                 // and the PIN was given a short while ago
  std::map<std::string, std::string, std::less<>> parameters;  // of the path: {load} in the route
  Fields form;                         // of a form that was posted
  std::string locked_for{};            // an operator's code, when nobody touched the browser for too long
  std::chrono::seconds lock_left{0};   // until it is locked; zero when nobody is signed in

  // Of the signed-in operator; empty if there is none. What a use case asks for.
  std::string operator_code() const { return who ? who->code : std::string{}; }
  std::string_view parameter(std::string_view name) const;
  std::string_view asked(std::string_view name) const { return request.head.query.value(name); }
  std::string_view field(std::string_view name) const { return form.value(name); }
  bool wants_json() const { return request.head.accept.find("application/json") != std::string::npos; }

  std::string word(std::string_view key, const core::Details& details = {}) const {
    return language.words.text(key, details);
  }

  // What parts/form needs, under whatever name a page gives it: action, token and a text that makes a second
  // sending of the same form do nothing more.
  View form_for(std::string_view path) const;

  // A page of templates/web/pages within the frame. `view` needs "title" (a text); "at" (a route's path)
  // marks its place in the navigation.
  Response page(std::string_view name, View view, int status = 200) const;
  // A piece of a page, without the frame, for a script to put in place.
  Response piece(std::string_view name, const View& view) const;
  Response json(const View& view, int status = 200) const;
  // Something was done: on to `path`, where the text of "done.<done>" stands above the page. `details` fill its
  // gaps.
  Response go_to(const std::string& path, std::string_view done = {}, const core::Details& details = {}) const;
  // Something could not be done: what happened and what to do, as a page of its own or, for a script, as JSON:
  // {"error", "text", "action", "items"}.
  Response failed(const core::Failure& failure) const;
  Response file(std::string bytes, std::string_view content_type, std::string_view name = {}) const;

  // The texts of a failure: error, text, action, items.
  View failure_view(const core::Failure& failure) const;
};

int status_of(const core::Failure& failure);

}  // namespace loadlight::web
