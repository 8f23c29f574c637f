#include <filesystem>
#include <iostream>

#include "cli/answers.h"
#include "cli/arguments.h"
#include "cli/commands.h"
#include "loadlight/app/change_labels.h"
#include "loadlight/app/print_labels.h"

namespace loadlight::cli {
namespace {

struct PaperOptions final {
  std::string template_name;
  std::string stock;
  int first_cell = 1;
  std::string nudge;
  std::string out;
};

void add_paper(CLI::App& verb, const Context& context, PaperOptions& options) {
  add_option(verb, context, "--template", options.template_name);
  add_option(verb, context, "--stock", options.stock);
  add_option(verb, context, "--first-cell", options.first_cell);
  add_option(verb, context, "--nudge", options.nudge);
  add_option(verb, context, "--out", options.out)->required();
}

core::Result<app::Paper> paper_of(const PaperOptions& options) {
  const auto nudge = parse_nudge(options.nudge);
  if (!nudge) return nudge.failure();
  app::Paper paper;
  if (!options.template_name.empty()) paper.template_name = options.template_name;
  if (!options.stock.empty()) paper.stock = options.stock;
  paper.first_cell = options.first_cell;
  paper.nudge_x = nudge->x;
  paper.nudge_y = nudge->y;
  paper.out = options.out;
  return paper;
}

// Opens the office and the press, and answers with what the work made of them.
int with_shop(const Context& context, const std::string& out,
              const std::function<int(const app::Ports&, const app::PrintShop&)>& work) {
  if (const auto ok = context.spare_the_office(out); !ok) return context.fail(ok.failure());
  const auto office = context.open_office();
  if (!office) return context.fail(office.failure());
  const auto shop = context.open_shop();
  if (!shop) return context.fail(shop.failure());
  return work((*office)->ports, (*shop)->shop);
}

int answer(const Context& context, const std::string& out, const core::Result<app::PrintReply>& reply) {
  if (!reply) return context.fail(reply.failure());
  answer_printed(context, *reply, out);
  return kDone;
}

int answer_warnings(const Context& context, const std::string& out,
                    const core::Result<std::vector<label::LayoutWarning>>& warnings) {
  if (!warnings) return context.fail(warnings.failure());
  for (const auto& warning : *warnings) {
    context.tell(context.text("label.warning." + warning.code, warning.details));
  }
  context.answer({{"out", out}}, context.text("line.written", {{"path", out}}));
  return kDone;
}

struct PrintOptions final {
  std::string contents;
  int count = 1;
  std::string load;
  std::string kind;
  std::string date;
  bool packed = false;
  PaperOptions paper;
};

// Shows the packing steps to a person at a terminal and asks for the word; scripts pass --packed.
core::Result<bool> acknowledged(const Context& context, const app::Ports& ports,
                                const PrintOptions& options) {
  if (options.packed || context.json || !context.world.person_is_there()) return options.packed;
  const auto steps = app::steps_for(ports, options.contents, options.kind);
  if (!steps) return steps.failure();
  std::string text = context.text("packing.title");
  for (const auto& step : *steps) text += "\n  - " + context.text("packing." + std::string{step.code});
  context.tell(text + "\n" + context.text("packing.question"));
  std::string word;
  std::getline(std::cin, word);
  if (word == context.text("packing.answer")) return true;
  return core::Failure{core::FailureCode::PackingNotAcknowledged, {}, {}};  // the steps were just shown
}

int print(const Context& context, const PrintOptions& options) {
  const auto load = parse_load(options.load);
  if (!load) return context.fail(load.failure());
  const auto date = parse_optional_date("date", options.date);
  if (!date) return context.fail(date.failure());
  const auto paper = paper_of(options.paper);
  if (!paper) return context.fail(paper.failure());
  return with_shop(context, options.paper.out, [&](const app::Ports& ports, const app::PrintShop& shop) {
    const auto packed = acknowledged(context, ports, options);
    if (!packed) return context.fail(packed.failure());
    const app::PrintRequest request{
        context.operator_code, options.contents, options.count, *load, options.kind, *date, *packed, *paper};
    return answer(context, options.paper.out, app::print_labels(ports, shop, request));
  });
}

struct ReprintOptions final {
  std::vector<std::string> packages;
  std::string cells;
  bool whole_run = false;
  int first_cell = 0;
  std::string out;
};

int reprint(const Context& context, const ReprintOptions& options) {
  const auto cells = parse_cells(options.cells);
  if (!cells) return context.fail(cells.failure());
  app::ReprintRequest request{context.operator_code, options.packages, *cells,
                              options.whole_run,     std::nullopt,     options.out};
  if (options.first_cell != 0) request.first_cell = options.first_cell;
  return with_shop(context, options.out, [&](const app::Ports& ports, const app::PrintShop& shop) {
    const int status = answer(context, options.out, app::reprint_labels(ports, shop, request));
    if (status == kDone) context.tell(context.text("label.destroy-the-torn-one"));
    return status;
  });
}

struct ReplaceOptions final {
  std::string package;
  std::string load;
  std::string contents;
  std::string kind;
  std::string date;
  PaperOptions paper;
};

int replace(const Context& context, const ReplaceOptions& options) {
  app::ReplaceRequest request;
  request.operator_code = context.operator_code;
  request.package = options.package;
  if (!options.load.empty()) {
    const auto load = parse_load(options.load);
    if (!load) return context.fail(load.failure());
    request.load = *load;
  }
  if (!options.contents.empty()) request.contents = options.contents;
  if (!options.kind.empty()) request.kind = options.kind;
  const auto date = parse_optional_date("date", options.date);
  if (!date) return context.fail(date.failure());
  request.process_date = *date;
  const auto paper = paper_of(options.paper);
  if (!paper) return context.fail(paper.failure());
  request.paper = *paper;
  return with_shop(context, options.paper.out, [&](const app::Ports& ports, const app::PrintShop& shop) {
    return answer(context, options.paper.out, app::replace_label(ports, shop, request));
  });
}

struct VoidOptions final {
  std::vector<std::string> packages;
  std::string why;
};

int make_void(const Context& context, const VoidOptions& options) {
  const auto office = context.open_office();
  if (!office) return context.fail(office.failure());
  const auto packages =
      app::void_labels((*office)->ports, {context.operator_code, options.packages, options.why});
  if (!packages) return context.fail(packages.failure());
  for (const core::Package& package : *packages) answer_package(context, package);
  return kDone;
}

struct TagOptions final {
  std::string location;
  PaperOptions paper;
};

int tag(const Context& context, const TagOptions& options) {
  const auto paper = paper_of(options.paper);
  if (!paper) return context.fail(paper.failure());
  return with_shop(context, options.paper.out, [&](const app::Ports& ports, const app::PrintShop& shop) {
    return answer_warnings(context, options.paper.out,
                           app::print_shelf_tag(ports, shop, {options.location, *paper}));
  });
}

struct CardOptions final {
  std::string load;
  std::string contents;
  int count = 1;
  PaperOptions paper;
};

int card(const Context& context, const CardOptions& options) {
  const auto load = parse_load(options.load);
  if (!load) return context.fail(load.failure());
  const auto paper = paper_of(options.paper);
  if (!paper) return context.fail(paper.failure());
  return with_shop(context, options.paper.out, [&](const app::Ports& ports, const app::PrintShop& shop) {
    return answer_warnings(
        context, options.paper.out,
        app::print_tray_card(ports, shop,
                             {context.operator_code, *load, options.contents, options.count, *paper}));
  });
}

struct TestPageOptions final {
  std::string template_name = "a4-24";
  std::string nudge;
  std::string out;
};

int test_page(const Context& context, const TestPageOptions& options) {
  if (const auto ok = context.spare_the_office(options.out); !ok) return context.fail(ok.failure());
  const auto nudge = parse_nudge(options.nudge);
  if (!nudge) return context.fail(nudge.failure());
  const auto shop = context.open_shop();
  if (!shop) return context.fail(shop.failure());
  const app::PrintShop& print = (*shop)->shop;
  const auto form = print.find_template(options.template_name);
  if (!form) return context.fail(form.failure());
  const auto page = label::lay_out_test_page(*form, nudge->x, nudge->y, print.words, print.gauge);
  if (!page) return context.fail(page.failure());
  const auto pdf = print.press.print({*page}, context.world.clock.now());
  if (!pdf) return context.fail(pdf.failure());
  const auto written = context.world.files.write(options.out, *pdf);
  if (!written) return context.fail(written.failure());
  return answer_warnings(context, options.out, std::vector<label::LayoutWarning>{});
}

void add_print(CLI::App& verb, Context& context) {
  auto options = std::make_shared<PrintOptions>();
  add_option(verb, context, "--contents", options->contents);
  add_option(verb, context, "--count", options->count);
  add_option(verb, context, "--load", options->load);
  add_option(verb, context, "--kind", options->kind);
  add_option(verb, context, "--date", options->date);
  add_flag(verb, context, "--packed", options->packed);
  add_paper(verb, context, options->paper);
  verb.get_option("--out")->required(false);
  verb.callback([&context, options, &verb] {
    if (!verb.get_subcommands().empty()) return;
    for (const char* needed : {"--contents", "--load", "--kind", "--out"}) {
      if (verb.get_option(needed)->count() == 0) throw CLI::RequiredError(needed);
    }
    context.action = [&context, options] { return print(context, *options); };
  });
}

void add_reprint(CLI::App& label, Context& context) {
  CLI::App* verb = add_verb(label, context, "reprint");
  auto options = on_call<ReprintOptions>(*verb, context, reprint);
  add_option(*verb, context, "packages", options->packages)->required();
  add_option(*verb, context, "--cells", options->cells);
  add_flag(*verb, context, "--whole-run", options->whole_run);
  add_option(*verb, context, "--first-cell", options->first_cell);
  add_option(*verb, context, "--out", options->out)->required();
}

void add_replace(CLI::App& label, Context& context) {
  CLI::App* verb = add_verb(label, context, "replace");
  auto options = on_call<ReplaceOptions>(*verb, context, replace);
  add_option(*verb, context, "package", options->package)->required();
  add_option(*verb, context, "--load", options->load);
  add_option(*verb, context, "--contents", options->contents);
  add_option(*verb, context, "--kind", options->kind);
  add_option(*verb, context, "--date", options->date);
  add_paper(*verb, context, options->paper);
}

void add_void(CLI::App& label, Context& context) {
  CLI::App* verb = add_verb(label, context, "void");
  auto options = on_call<VoidOptions>(*verb, context, make_void);
  add_option(*verb, context, "packages", options->packages)->required();
  add_option(*verb, context, "--why", options->why);
}

void add_test_page(CLI::App& label, Context& context) {
  CLI::App* verb = add_verb(label, context, "test-page");
  auto options = on_call<TestPageOptions>(*verb, context, test_page);
  add_option(*verb, context, "--template", options->template_name);
  add_option(*verb, context, "--nudge", options->nudge);
  add_option(*verb, context, "--out", options->out)->required();
}

void add_tag(CLI::App& label, Context& context) {
  CLI::App* verb = add_verb(label, context, "shelf-tag");
  auto options = on_call<TagOptions>(*verb, context, tag);
  add_option(*verb, context, "--location", options->location)->required();
  add_paper(*verb, context, options->paper);
}

void add_card(CLI::App& label, Context& context) {
  CLI::App* verb = add_verb(label, context, "tray-card");
  auto options = on_call<CardOptions>(*verb, context, card);
  add_option(*verb, context, "--load", options->load)->required();
  add_option(*verb, context, "--contents", options->contents)->required();
  add_option(*verb, context, "--count", options->count);
  add_paper(*verb, context, options->paper);
}

}  // namespace

void add_label(CLI::App& app, Context& context) {
  CLI::App* verb = add_verb(app, context, "label");
  add_print(*verb, context);
  add_reprint(*verb, context);
  add_replace(*verb, context);
  add_void(*verb, context);
  add_test_page(*verb, context);
  add_tag(*verb, context);
  add_card(*verb, context);
}

}  // namespace loadlight::cli
