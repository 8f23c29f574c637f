// Records on paper: the load record, its cycle as a drawing, a period's records, the recall notice.
#include "cli/arguments.h"
#include "cli/commands.h"
#include "cli/load_verbs.h"
#include "loadlight/app/draw_cycle.h"
#include "loadlight/app/print_recall.h"
#include "loadlight/app/print_record.h"

namespace loadlight::cli {
namespace {

using core::Result;

int write_out(const Context& context, const std::string& path, const Result<std::string>& bytes) {
  if (!bytes) return context.fail(bytes.failure());
  if (const auto ok = context.spare_the_office(path); !ok) return context.fail(ok.failure());
  if (const auto ok = context.world.files.write(path, *bytes); !ok) return context.fail(ok.failure());
  context.tell(context.text("line.written", {{"path", path}}));
  return kDone;
}

// Opens the press and lets `make` turn documents into a PDF.
template <class Make>
int print(const Context& context, const std::string& path, const std::string& paper, Make make) {
  const auto size = parse_paper(paper);
  if (!size) return context.fail(size.failure());
  const auto shop = context.open_shop();
  if (!shop) return context.fail(shop.failure());
  const app::PageShop pages{(*shop)->shop.gauge, (*shop)->shop.press, *context.words, *size};
  return write_out(context, path, make(pages));
}

struct ReportOptions final {
  std::string load;
  std::string out;
  std::string paper = "A4";
};

int report(const Context& context, const ReportOptions& options) {
  return with_load(context, options.load, [&](const app::Ports& ports, const core::LoadName& name) {
    const int printed = print(context, options.out, options.paper, [&](const app::PageShop& shop) {
      return app::load_record_pdf(ports, shop, name);
    });
    if (printed != kDone) return printed;
    const auto view = app::show_load(ports, name);
    if (!view) return context.fail(view.failure());
    answer_load(context, view->load, view->verdict, {{"out", options.out}});
    return kDone;
  });
}

struct PlotOptions final {
  std::string load;
  std::string svg;
};

int plot(const Context& context, const PlotOptions& options) {
  return with_load(context, options.load, [&](const app::Ports& ports, const core::LoadName& name) {
    const int drawn = write_out(context, options.svg, app::cycle_drawing(ports, *context.words, name));
    if (drawn == kDone) context.answer({{"load", name.text()}, {"out", options.svg}}, "");
    return drawn;
  });
}

struct PeriodOptions final {
  std::string from;
  std::string to;
  std::string sterilizer;
  std::string pdf;
  std::string csv;
  std::string paper = "A4";
};

int period(const Context& context, const PeriodOptions& options) {
  const auto first = parse_date("from", options.from);
  if (!first) return context.fail(first.failure());
  const auto last = parse_date("to", options.to);
  if (!last) return context.fail(last.failure());
  if (options.pdf.empty() && options.csv.empty()) return context.fail(bad_value("pdf", ""));
  const auto office = context.open_office();
  if (!office) return context.fail(office.failure());
  const app::PeriodRequest request{*first, *last, options.sterilizer};
  if (!options.csv.empty()) {
    const int written = write_out(context, options.csv, app::period_record_csv((*office)->ports, request));
    if (written != kDone) return written;
    context.answer({{"out", options.csv}}, "");
  }
  if (options.pdf.empty()) return kDone;
  const int printed = print(context, options.pdf, options.paper, [&](const app::PageShop& shop) {
    return app::period_record_pdf((*office)->ports, shop, request);
  });
  if (printed == kDone) context.answer({{"out", options.pdf}}, "");
  return printed;
}

}  // namespace

int print_notice(const Context& context, const OpenOffice& office, int incident, const std::string& path) {
  return print(context, path, "A4", [&](const app::PageShop& shop) {
    return app::recall_notice_pdf(office.ports, shop, incident);
  });
}

void add_report_verbs(CLI::App& load_verb, Context& context) {
  auto reporting = add_step<ReportOptions>(load_verb, context, "report", report);
  CLI::App& report_verb = *load_verb.get_subcommand("report");
  add_option(report_verb, context, "--out", reporting->out)->required();
  add_option(report_verb, context, "--paper", reporting->paper);
  auto plotting = add_step<PlotOptions>(load_verb, context, "plot", plot);
  add_option(*load_verb.get_subcommand("plot"), context, "--svg", plotting->svg)->required();
  auto bound = add_step<PeriodOptions>(load_verb, context, "period", period);
  CLI::App& period_verb = *load_verb.get_subcommand("period");
  add_option(period_verb, context, "--from", bound->from)->required();
  add_option(period_verb, context, "--to", bound->to)->required();
  add_option(period_verb, context, "--sterilizer", bound->sterilizer);
  add_option(period_verb, context, "--pdf", bound->pdf);
  add_option(period_verb, context, "--csv", bound->csv);
  add_option(period_verb, context, "--paper", bound->paper);
}

}  // namespace loadlight::cli
