// Printers by IPP (RFC 8010 and 8011), each request over a connection of its own.
#include <optional>
#include <span>
#include <utility>

#include "loadlight/printing/printers.h"
#include "printing/connection.h"
#include "printing/ipp_words.h"
#include "printing/paper_size.h"

namespace loadlight::printing {
namespace {

using core::Result;
using port::PrinterAddress;

constexpr const char* kAsked[] = {"printer-state", "printer-state-reasons", "printer-is-accepting-jobs",
                                  "document-format-supported", "queued-job-count", "media-size-supported"};
constexpr const char* kSizes[] = {"media-size-supported"};
constexpr const char* kPdf = "application/pdf";

void add_text(ipp_t* request, ipp_tag_t group, ipp_tag_t kind, const char* name, const std::string& value) {
  ippAddString(request, group, kind, name, nullptr, value.c_str());
}

Message new_request(ipp_op_t operation, const PrinterAddress& printer) {
  Message request{ippNewRequest(operation)};
  add_text(request.get(), IPP_TAG_OPERATION, IPP_TAG_URI, "printer-uri", printer.uri);
  return request;
}

void sign(ipp_t* request) {
  add_text(request, IPP_TAG_OPERATION, IPP_TAG_NAME, "requesting-user-name", "loadlight");
}

Message job_request(ipp_op_t operation, const PrinterAddress& printer, int number) {
  Message request = new_request(operation, printer);
  ippAddInteger(request.get(), IPP_TAG_OPERATION, IPP_TAG_INTEGER, "job-id", number);
  sign(request.get());
  return request;
}

// The page as it is: a label that is scaled no longer fits its paper, nor its symbol its dots.
void add_paper(ipp_t* request, const std::optional<PaperSize>& page) {
  add_text(request, IPP_TAG_JOB, IPP_TAG_KEYWORD, "print-scaling", "none");
  if (!page) return;
  const Message size{ippNew()};
  ippAddInteger(size.get(), IPP_TAG_ZERO, IPP_TAG_INTEGER, "x-dimension", page->width);
  ippAddInteger(size.get(), IPP_TAG_ZERO, IPP_TAG_INTEGER, "y-dimension", page->height);
  const Message paper{ippNew()};
  ippAddCollection(paper.get(), IPP_TAG_ZERO, "media-size", size.get());
  ippAddCollection(request, IPP_TAG_JOB, "media-col", paper.get());
}

// "x-dimension" or "y-dimension": a number, or a range where a printer cuts its paper itself.
std::pair<int, int> span_of(ipp_t* size, const char* name) {
  ipp_attribute_t* const attribute = ippFindAttribute(size, name, IPP_TAG_ZERO);
  if (!attribute) return {1, 0};
  int longest = 0;
  if (ippGetValueTag(attribute) == IPP_TAG_RANGE) {
    const int shortest = ippGetRange(attribute, 0, &longest);
    return {shortest, longest};
  }
  const int only = ippGetInteger(attribute, 0);
  return {only, only};
}

std::vector<SizeRange> sizes_in(ipp_t* answer) {
  std::vector<SizeRange> sizes;
  ipp_attribute_t* const attribute = ippFindAttribute(answer, "media-size-supported", IPP_TAG_BEGIN_COLLECTION);
  for (int i = 0; attribute && i < ippGetCount(attribute); ++i) {
    ipp_t* const size = ippGetCollection(attribute, i);
    const auto width = span_of(size, "x-dimension");
    const auto height = span_of(size, "y-dimension");
    sizes.push_back({width.first, width.second, height.first, height.second});
  }
  return sizes;
}

std::vector<std::string> texts_of(ipp_t* answer, const char* name, ipp_tag_t kind) {
  std::vector<std::string> texts;
  ipp_attribute_t* const attribute = ippFindAttribute(answer, name, kind);
  for (int i = 0; attribute && i < ippGetCount(attribute); ++i) {
    if (const char* text = ippGetString(attribute, i, nullptr)) texts.emplace_back(text);
  }
  return texts;
}

int number_of(ipp_t* answer, const char* name, ipp_tag_t kind, int otherwise) {
  ipp_attribute_t* const attribute = ippFindAttribute(answer, name, kind);
  return attribute ? ippGetInteger(attribute, 0) : otherwise;
}

bool takes_jobs(ipp_t* answer) {
  ipp_attribute_t* const attribute = ippFindAttribute(answer, "printer-is-accepting-jobs", IPP_TAG_BOOLEAN);
  return !attribute || ippGetBoolean(attribute, 0) != 0;
}

bool takes_pdf(ipp_t* answer) {
  const auto formats = texts_of(answer, "document-format-supported", IPP_TAG_MIMETYPE);
  for (const std::string& format : formats) {
    if (format == kPdf) return true;
  }
  return formats.empty();
}

port::PrinterState state_in(ipp_t* answer) {
  port::PrinterState state;
  state.activity = activity_of(number_of(answer, "printer-state", IPP_TAG_ENUM, 0));
  state.takes_jobs = takes_jobs(answer);
  state.takes_pdf = takes_pdf(answer);
  state.waiting = number_of(answer, "queued-job-count", IPP_TAG_INTEGER, 0);
  for (const std::string& reason : texts_of(answer, "printer-state-reasons", IPP_TAG_KEYWORD)) {
    if (auto trouble = trouble_of(reason)) state.troubles.push_back(std::move(*trouble));
  }
  return state;
}

Result<Message> attributes_of(const PrinterAddress& printer, std::span<const char* const> names) {
  Message request = new_request(IPP_OP_GET_PRINTER_ATTRIBUTES, printer);
  sign(request.get());
  ippAddStrings(request.get(), IPP_TAG_OPERATION, IPP_TAG_KEYWORD, "requested-attributes",
                static_cast<int>(names.size()), nullptr, names.data());
  return ask(printer, std::move(request));
}

// Nothing inside when the printer does not say what it knows.
Result<std::optional<PaperSize>> size_for(const PrinterAddress& printer, const port::PrintJob& job) {
  const auto answer = attributes_of(printer, kSizes);
  if (!answer) return answer.failure();
  const auto sizes = sizes_in(answer->get());
  const auto size = nearest_size(sizes, job.page.width, job.page.height);
  if (!size && !sizes.empty()) return refused(printer, "size-unknown");
  return size;
}

class IppPrinters final : public port::Printers {
 public:
  Result<port::PrinterState> state(const PrinterAddress& printer,
                                   const std::optional<port::PageSize>& page) const override {
    const auto answer = attributes_of(printer, kAsked);
    if (!answer) return answer.failure();
    auto state = state_in(answer->get());
    const auto sizes = sizes_in(answer->get());
    if (page && !sizes.empty()) state.takes_page = nearest_size(sizes, page->width, page->height).has_value();
    return state;
  }

  Result<int> print(const PrinterAddress& printer, const port::PrintJob& job) const override {
    const auto size = size_for(printer, job);
    if (!size) return size.failure();
    Message request = new_request(IPP_OP_PRINT_JOB, printer);
    sign(request.get());
    add_text(request.get(), IPP_TAG_OPERATION, IPP_TAG_NAME, "job-name", job.title);
    add_text(request.get(), IPP_TAG_OPERATION, IPP_TAG_MIMETYPE, "document-format", kPdf);
    add_paper(request.get(), *size);
    const auto answer = ask(printer, std::move(request), job.pdf);
    if (!answer) return answer.failure();
    const int number = number_of(answer->get(), "job-id", IPP_TAG_INTEGER, 0);
    if (number < 1) return refused(printer, "not-a-printer");
    return number;
  }

  Result<port::JobState> job(const PrinterAddress& printer, int number) const override {
    const auto answer = ask(printer, job_request(IPP_OP_GET_JOB_ATTRIBUTES, printer, number));
    if (!answer) return answer.failure();
    return job_state_of(number_of(answer->get(), "job-state", IPP_TAG_ENUM, 0));
  }

  Result<void> cancel(const PrinterAddress& printer, int number) const override {
    const auto answer = ask(printer, job_request(IPP_OP_CANCEL_JOB, printer, number));
    if (!answer) return answer.failure();
    return {};
  }
};

}  // namespace

std::unique_ptr<port::Printers> make_printers() {
  return std::make_unique<IppPrinters>();
}

}  // namespace loadlight::printing
