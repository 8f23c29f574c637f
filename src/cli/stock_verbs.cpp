#include "cli/answers.h"
#include "cli/arguments.h"
#include "cli/commands.h"
#include "cli/print_grading.h"
#include "loadlight/app/office_tables.h"
#include "loadlight/app/stock_trial.h"

namespace loadlight::cli {
namespace {

struct RateOptions final {
  std::string code;
  std::string by;
  std::string note;
};

int rate(const Context& context, const RateOptions& options) {
  const auto rating = parse_term<core::SteamRating>("by", options.by);
  if (!rating) return context.fail(rating.failure());
  const auto office = context.open_office();
  if (!office) return context.fail(office.failure());
  const auto row = app::rate_stock((*office)->ports,
                                   {context.operator_code, options.code, *rating, options.note});
  if (!row) return context.fail(row.failure());
  answer_row(context, app::OfficeTable::Stocks, *row);
  return context.delivered(kDone);
}

struct TrialOptions final {
  std::string code;
  std::string before;
  std::string after;
};

int try_stock(const Context& context, const TrialOptions& options) {
  const auto office = context.open_office();
  if (!office) return context.fail(office.failure());
  const auto seeing = context.world.open_seeing();
  if (!seeing) return context.fail(seeing.failure());
  const auto before = measure_picture(*seeing, options.before);
  if (!before) return context.fail(before.failure());
  const auto after = measure_picture(*seeing, options.after);
  if (!after) return context.fail(after.failure());
  const auto reply =
      app::try_stock((*office)->ports, {context.operator_code, options.code, *before, *after});
  if (!reply) return context.fail(reply.failure());
  const char* key = reply->survives ? "trial.survives" : "trial.does-not-survive";
  context.answer({{"stock", options.code},
                  {"survives", reply->survives},
                  {"before", grades_json(before->measures)},
                  {"after", grades_json(after->measures)}},
                 context.text(key, {{"stock", options.code}}) + "\n" +
                     context.text("trial.before") + " " + grades_text(context, before->measures) + "\n" +
                     context.text("trial.after") + " " + grades_text(context, after->measures));
  return context.delivered(reply->survives ? kDone : kRefused);
}

}  // namespace

void add_stock_verbs(CLI::App& stock_verb, Context& context) {
  CLI::App* rate_verb = add_verb(stock_verb, context, "rate");
  auto rating = on_call<RateOptions>(*rate_verb, context, rate);
  rate_verb->add_option("code,--code", rating->code, context.text("help.column.code"))->required();
  add_option(*rate_verb, context, "--by", rating->by)->required();
  add_option(*rate_verb, context, "--note", rating->note)->required();
  CLI::App* trial_verb = add_verb(stock_verb, context, "trial");
  auto trial = on_call<TrialOptions>(*trial_verb, context, try_stock);
  trial_verb->add_option("code,--code", trial->code, context.text("help.column.code"))->required();
  add_option(*trial_verb, context, "--before", trial->before)->required();
  add_option(*trial_verb, context, "--after", trial->after)->required();
}

}  // namespace loadlight::cli
