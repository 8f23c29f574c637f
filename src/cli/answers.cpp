#include "cli/answers.h"

namespace loadlight::cli {
namespace {

std::string code_text(auto code) { return std::string{core::to_text(code)}; }

std::string line_of(const Context& context, const std::string& key, const core::Details& details) {
  return context.text("line." + key, details);
}

// As it is printed under the symbol.
std::string grouped(const std::string& id) {
  const auto package = core::PackageId::parse_exact(id);
  return package ? package->grouped() : id;
}

std::string first_line(const Context& context, const app::CheckReply& reply) {
  const std::string outcome = context.text("outcome." + code_text(reply.verdict.outcome()));
  if (!reply.package) return outcome;
  std::string line = outcome + "  " + grouped(*reply.package);
  if (!reply.contents.empty()) {
    line += "  " + (reply.contents_name.empty() ? reply.contents : reply.contents_name);
  }
  if (reply.load) line += "  " + line_of(context, "load", {{"load", reply.load->text()}});
  if (reply.process_date) line += "  " + line_of(context, "processed", {{"date", reply.process_date->iso()}});
  if (reply.use_by) line += "  " + line_of(context, "use-by", {{"date", reply.use_by->iso()}});
  return line;
}

core::Details note_details(const app::CheckReply& reply) {
  core::Details details{{"package", grouped(reply.older_one.value_or(""))},
                        {"date", reply.use_by ? reply.use_by->iso() : std::string{}}};
  if (reply.from_copy) {
    details.emplace_back("moment", reply.from_copy->moment);
    details.emplace_back("minutes", std::to_string(reply.from_copy->minutes));
  }
  return details;
}

Json corners_json(const label::Quad& corners) {
  Json list = Json::array();
  for (const label::Point& p : corners) list.push_back({p.x, p.y});
  return list;
}

}  // namespace

int exit_status(core::Outcome outcome) {
  switch (outcome) {
    case core::Outcome::Clear:
      return kDone;
    case core::Outcome::Hold:
      return kHold;
    case core::Outcome::DoNotUse:
      return kRefused;
  }
  return kRefused;
}

Json reasons_json(const Context& context, const core::Verdict& verdict) {
  Json list = Json::array();
  for (const core::Reason reason : verdict.reasons()) {
    const std::string code = code_text(reason);
    list.push_back({{"code", code},
                    {"text", context.text("reason." + code + ".text")},
                    {"action", context.text("reason." + code + ".action")}});
  }
  return list;
}

Json notes_json(const core::Verdict& verdict) {
  Json list = Json::array();
  for (const core::Note note : verdict.notes()) list.push_back(code_text(note));
  return list;
}

std::string reasons_text(const Context& context, const core::Verdict& verdict) {
  std::string text;
  for (const core::Reason reason : verdict.reasons()) {
    const std::string code = code_text(reason);
    text += "\n  - " + context.text("reason." + code + ".text") + " " +
            context.text("reason." + code + ".action");
  }
  return text;
}

void answer_check(const Context& context, const app::CheckReply& reply) {
  Json object{{"outcome", code_text(reply.verdict.outcome())},
              {"package", optional_text(reply.package)},
              {"load", reply.load ? Json(reply.load->text()) : Json(nullptr)},
              {"contents", reply.contents.empty() ? Json(nullptr) : Json(reply.contents)},
              {"contents_name", reply.contents_name.empty() ? Json(nullptr) : Json(reply.contents_name)},
              {"process_date", date_json(reply.process_date)},
              {"use_by", date_json(reply.use_by)},
              {"location", optional_text(reply.location)},
              {"reasons", reasons_json(context, reply.verdict)},
              {"notes", notes_json(reply.verdict)}};
  if (reply.corners) object["corners"] = corners_json(*reply.corners);
  if (reply.from_copy) object["copy_age_minutes"] = reply.from_copy->minutes;
  std::string text = first_line(context, reply) + reasons_text(context, reply.verdict);
  for (const core::Note note : reply.verdict.notes()) {
    text += "\n  * " + context.text("note." + code_text(note) + ".text", note_details(reply));
  }
  context.answer(object, text);
}

void answer_load(const Context& context, const core::Load& load, const core::Verdict& verdict, Json more,
                 Tell tell) {
  Json object{{"load", load.name.text()},
              {"state", code_text(load.state)},
              {"outcome", code_text(verdict.outcome())},
              {"reasons", reasons_json(context, verdict)},
              {"notes", notes_json(verdict)}};
  object.update(more);
  std::string text = line_of(context, "load-state",
                             {{"load", load.name.text()}, {"state", code_text(load.state)}});
  if (tell == Tell::Reasons) text += reasons_text(context, verdict);
  for (const core::Note note : verdict.notes()) {
    text += "\n  * " + context.text("note." + code_text(note) + ".text", {});
  }
  context.answer(object, text);
}

void answer_package(const Context& context, const core::Package& package, Json more) {
  Json object{{"package", package.id.text()},
              {"state", code_text(package.state)},
              {"load", package.load.text()},
              {"contents", package.contents},
              {"location", optional_text(package.location)}};
  object.update(more);
  core::Details details{{"package", package.id.grouped()}, {"state", code_text(package.state)}};
  const bool on_shelf = package.state == core::PackageState::Loaded && package.location;
  if (on_shelf) details.emplace_back("location", *package.location);
  context.answer(object, line_of(context, "package-state", details));
}

void answer_printed(const Context& context, const app::PrintReply& reply, const std::string& out) {
  for (const label::LayoutWarning& warning : reply.warnings) {
    context.tell(context.text("label.warning." + warning.code, warning.details));
  }
  for (const core::Package& package : reply.packages) {
    const Json object{{"package", package.id.text()},
                      {"payload", package.payload},
                      {"load", package.load.text()},
                      {"use_by", date_json(package.use_by)},
                      {"cell", package.cell}};
    context.answer(object, line_of(context, "printed",
                                   {{"package", package.id.grouped()},
                                    {"load", package.load.text()},
                                    {"cell", std::to_string(package.cell)}}));
  }
  context.tell(context.text("line.written", {{"path", out}}));
}

void answer_row(const Context& context, app::OfficeTable table, const app::Row& row) {
  Json object = Json::object();
  std::string text;
  const auto columns = app::text_of(table).columns;
  for (const auto& [name, value] : row) {
    bool flag = name == "in_service";
    for (const app::Column& column : columns) flag = flag || (column.name == name && column.yes_or_no);
    const bool absent = value.empty() && name != "items";
    object[name] = flag ? Json(value == "yes") : absent ? Json(nullptr) : Json(value);
    if (name == "dpi") object[name] = std::stoi(value);
    if (flag && value == "yes") text += (text.empty() ? "" : "  ") + name;
    if (!flag && !absent && !value.empty()) text += (text.empty() ? "" : "  ") + value;
  }
  context.answer(object, text);
}

}  // namespace loadlight::cli
