// Berlekamp and Massey's algorithm begun at the erasures' locator, Chien's search, Forney's formula.
// Polynomials are vectors of coefficients, constant term first.
#include "vision/reed_solomon.h"

#include <algorithm>
#include <array>

namespace loadlight::vision {
namespace {

using Element = std::uint8_t;
using Polynomial = std::vector<Element>;

constexpr int kOrder = 255;  // of the field's multiplicative group
constexpr unsigned kFieldPolynomial = 0x11D;

struct FieldTables final {
  std::array<Element, 2 * kOrder>
      power{};  // of the element 2; twice round, so that sums of two logarithms fit
  std::array<int, kOrder + 1> logarithm{};
};

constexpr FieldTables made_tables() {
  FieldTables tables;
  unsigned value = 1;
  for (std::size_t i = 0; i < kOrder; ++i) {
    tables.power[i] = tables.power[i + kOrder] = static_cast<Element>(value);
    tables.logarithm[value] = static_cast<int>(i);
    value <<= 1;
    if (value > kOrder) value ^= kFieldPolynomial;
  }
  return tables;
}

constexpr FieldTables kField = made_tables();

Element product(Element a, Element b) {
  if (a == 0 || b == 0) return 0;
  return kField.power[static_cast<std::size_t>(kField.logarithm[a] + kField.logarithm[b])];
}

Element quotient(Element a, Element b) {  // b is not 0
  if (a == 0) return 0;
  return kField.power[static_cast<std::size_t>(kField.logarithm[a] + kOrder - kField.logarithm[b])];
}

Element power_of_two(int exponent) {  // -255 to 254
  return kField.power[static_cast<std::size_t>(exponent < 0 ? exponent + kOrder : exponent)];
}

Element value_at(const Polynomial& polynomial, Element x) {
  Element sum = 0;
  for (auto i = polynomial.rbegin(); i != polynomial.rend(); ++i) sum = product(sum, x) ^ *i;
  return sum;
}

int degree_of(const Polynomial& polynomial) {
  for (auto i = polynomial.size(); i-- > 0;) {
    if (polynomial[i] != 0) return static_cast<int>(i);
  }
  return 0;
}

// The codeword at each root of the generator; all 0 of a codeword of the code.
Polynomial syndromes_of(std::span<const Element> codeword, int checks) {
  Polynomial syndromes(static_cast<std::size_t>(checks), 0);
  for (int j = 0; j < checks; ++j) {
    Element sum = 0;
    for (Element value : codeword) {  // the root is the j-th power of 2
      if (sum != 0) sum = kField.power[static_cast<std::size_t>(kField.logarithm[sum] + j)];
      sum ^= value;
    }
    syndromes[static_cast<std::size_t>(j)] = sum;
  }
  return syndromes;
}

bool is_all_zero(const Polynomial& syndromes) {
  return std::all_of(syndromes.begin(), syndromes.end(), [](Element e) { return e == 0; });
}

// The power of 2 that stands for a position: the first one is the highest term.
int exponent_of(int position, std::size_t length) {
  return static_cast<int>(length) - 1 - position;
}

// The product of 1 - X * x over the positions' elements X.
Polynomial locator_of(std::span<const int> positions, std::size_t length, int checks) {
  Polynomial locator(static_cast<std::size_t>(checks) + 1, 0);
  locator[0] = 1;
  for (std::size_t n = 0; n < positions.size(); ++n) {
    const Element element = power_of_two(exponent_of(positions[n], length));
    for (std::size_t i = n + 1; i > 0; --i) locator[i] ^= product(locator[i - 1], element);
  }
  return locator;
}

Element discrepancy(const Polynomial& locator, const Polynomial& syndromes, std::size_t at) {
  Element sum = 0;
  for (std::size_t i = 0; i <= at; ++i) sum ^= product(locator[i], syndromes[at - i]);
  return sum;
}

void multiply_by_x(Polynomial& polynomial) {
  polynomial.insert(polynomial.begin(), 0);
  polynomial.pop_back();
}

// The shortest locator of erasures and errors that explains the syndromes; nothing if there would be more
// errors than can be told apart.
std::optional<Polynomial> errata_locator(const Polynomial& syndromes, Polynomial locator, int erasures) {
  const int checks = static_cast<int>(syndromes.size());
  Polynomial spare = locator;
  int length = erasures;
  for (int step = erasures; step < checks; ++step) {
    multiply_by_x(spare);
    const Element delta = discrepancy(locator, syndromes, static_cast<std::size_t>(step));
    if (delta == 0) continue;
    const Polynomial before = locator;
    for (std::size_t i = 0; i < locator.size(); ++i) locator[i] ^= product(delta, spare[i]);
    if (2 * length > step + erasures) continue;
    length = step + 1 + erasures - length;
    for (std::size_t i = 0; i < spare.size(); ++i) spare[i] = quotient(before[i], delta);
  }
  if (2 * length - erasures > checks || degree_of(locator) != length) return std::nullopt;
  return locator;
}

// The positions whose elements' inverses are the locator's roots; nothing unless there are as many as its
// degree.
std::optional<std::vector<int>> positions_of(const Polynomial& locator, std::size_t length) {
  std::vector<int> positions;
  const Polynomial trimmed(locator.begin(), locator.begin() + degree_of(locator) + 1);
  for (int position = 0; position < static_cast<int>(length); ++position) {
    if (value_at(trimmed, power_of_two(-exponent_of(position, length))) == 0) positions.push_back(position);
  }
  if (positions.size() + 1 != trimmed.size()) return std::nullopt;
  return positions;
}

Polynomial evaluator_of(const Polynomial& syndromes, const Polynomial& locator) {
  Polynomial evaluator(syndromes.size(), 0);
  for (std::size_t at = 0; at < evaluator.size(); ++at) evaluator[at] = discrepancy(locator, syndromes, at);
  return evaluator;
}

// The formal derivative: over this field only the odd powers leave anything.
Polynomial derivative_of(const Polynomial& polynomial) {
  Polynomial derivative(polynomial.size() - 1, 0);
  for (std::size_t i = 1; i < polynomial.size(); i += 2) derivative[i - 1] = polynomial[i];
  return derivative;
}

// Adds the errata to the values at these positions; the positions at which there was one.
std::vector<int> mend(std::span<Element> codeword, const Polynomial& syndromes, const Polynomial& locator,
                      const std::vector<int>& positions) {
  const auto evaluator = evaluator_of(syndromes, locator);
  const auto derivative = derivative_of(locator);
  std::vector<int> changed;
  for (int position : positions) {
    const int exponent = exponent_of(position, codeword.size());
    const Element inverse = power_of_two(-exponent);
    const Element ratio = quotient(value_at(evaluator, inverse), value_at(derivative, inverse));
    if (ratio == 0) continue;
    codeword[static_cast<std::size_t>(position)] ^= product(power_of_two(exponent), ratio);
    changed.push_back(position);
  }
  return changed;
}

}  // namespace

std::optional<Correction> correct(std::span<std::uint8_t> codeword, int checks,
                                  std::span<const int> erasures) {
  const auto syndromes = syndromes_of(codeword, checks);
  if (is_all_zero(syndromes)) return Correction{};
  const int erased = static_cast<int>(erasures.size());
  if (erased > checks) return std::nullopt;
  const auto locator = errata_locator(syndromes, locator_of(erasures, codeword.size(), checks), erased);
  if (!locator) return std::nullopt;
  const auto positions = positions_of(*locator, codeword.size());
  if (!positions) return std::nullopt;

  std::vector<Element> mended(codeword.begin(), codeword.end());
  auto changed = mend(mended, syndromes, *locator, *positions);
  if (!is_all_zero(syndromes_of(mended, checks))) return std::nullopt;
  std::copy(mended.begin(), mended.end(), codeword.begin());
  return Correction{std::move(changed), static_cast<int>(positions->size()) - erased};
}

}  // namespace loadlight::vision
