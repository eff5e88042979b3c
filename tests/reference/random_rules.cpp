#include "reference/random_rules.h"

#include <algorithm>

namespace reference {

namespace {

std::size_t below(std::mt19937_64& random, std::size_t bound) {
  return std::uniform_int_distribution<std::size_t>(0, bound - 1)(random);
}

bool happens(std::mt19937_64& random, double chance) {
  return std::bernoulli_distribution(chance)(random);
}

RandomCount share(std::mt19937_64& random) {
  const std::uint64_t total = 10 + below(random, 40);
  return {1 + below(random, total), total};
}

RandomCount small_rate(std::mt19937_64& random) {
  return {below(random, 4), 20 + below(random, 300)};
}

std::string count(const RandomCount& c) {
  return std::to_string(c.hits) + " of " + std::to_string(c.total);
}

/// "in 3 of 10 jobs", "weak or more in 7, strong in 3 of 10 jobs"
std::string graded(const std::vector<RandomCount>& counts) {
  if (counts.size() == 1) return "in " + count(counts[0]) + " jobs";
  return "weak or more in " + std::to_string(counts[0].hits) + ", strong in " +
         std::to_string(counts[1].hits) + " of " + std::to_string(counts[0].total) + " jobs";
}

mpq_class fraction(const RandomCount& c) { return {mpz_class(c.hits), mpz_class(c.total)}; }

/// 0 of n as a rate is half a count.
mpq_class rate_of(const RandomCount& c) {
  mpq_class value = c.hits > 0 ? fraction(c) : mpq_class(1, 2 * mpz_class(c.total));
  value.canonicalize();
  return value;
}

mpq_class passes(const RandomCount& share, const mpq_class& rate) {
  const mpq_class pass = (1 - fraction(share)) / (1 - rate);
  return pass < 1 ? pass : mpq_class(1);
}

struct ExactFinding {
  std::vector<mpq_class> rate;
  std::vector<std::vector<mpq_class>> pass;  // per parent, per grade
};

ExactFinding exact(const RandomFinding& finding) {
  ExactFinding result;
  const std::size_t grades = finding.otherwise.size();
  for (const RandomCount& c : finding.otherwise) result.rate.push_back(rate_of(c));
  for (std::size_t g = grades; g-- > 1;)
    result.rate[g - 1] = std::max(result.rate[g - 1], result.rate[g]);
  for (const auto& shown : finding.by) {
    std::vector<mpq_class> pass;
    for (std::size_t g = 0; g < grades; ++g) pass.push_back(passes(shown.share[g], result.rate[g]));
    for (std::size_t g = grades; g-- > 1;) pass[g - 1] = std::min(pass[g - 1], pass[g]);
    result.pass.push_back(std::move(pass));
  }
  return result;
}

mpq_class below_grade(const RandomFinding& finding, const ExactFinding& numbers, std::size_t grade,
                      std::size_t setting) {
  if (grade == 0) return 0;
  if (grade > numbers.rate.size()) return 1;
  mpq_class result = 1 - numbers.rate[grade - 1];
  for (std::size_t i = 0; i < finding.by.size(); ++i) {
    if ((setting >> finding.by[i].node & 1U) != 0) result *= numbers.pass[i][grade - 1];
  }
  return result;
}

mpq_class weight_of_node(const RandomRules& rules, std::size_t node, std::size_t setting) {
  const RandomNode& n = rules.nodes[node];
  const mpq_class rate = rate_of(n.rate);
  mpq_class absent = 1 - rate;
  for (const auto& maker : n.makers) {
    if ((setting >> maker.node & 1U) != 0) absent *= passes(maker.share, rate);
  }
  return (setting >> node & 1U) != 0 ? mpq_class(1 - absent) : absent;
}

RandomNode make_node(std::mt19937_64& random, const std::vector<RandomNode>& before) {
  RandomNode node;
  node.rate = small_rate(random);
  node.inside = !before.empty() && happens(random, 0.4);
  for (std::size_t i = 0; i < before.size(); ++i) {
    // An inside never makes a cause, and a cause has fewer makers than an inside.
    const bool allowed = node.inside || !before[i].inside;
    if (allowed && happens(random, node.inside ? 0.6 : 0.25))
      node.makers.push_back({i, share(random)});
  }
  return node;
}

RandomFinding make_finding(std::mt19937_64& random, const std::vector<RandomNode>& nodes) {
  RandomFinding finding;
  const bool two_grades = happens(random, 0.4);
  const auto counts = [&](RandomCount weak) {
    std::vector<RandomCount> list{weak};
    if (two_grades) list.push_back({below(random, weak.hits + 1), weak.total});
    return list;
  };
  finding.otherwise = counts(small_rate(random));
  for (std::size_t i = 0; i < nodes.size(); ++i) {
    if (happens(random, 0.45)) finding.by.push_back({i, counts(share(random))});
  }
  const std::size_t grades = finding.otherwise.size();
  if (happens(random, 0.75)) {
    RandomFinding::Answer answer;
    answer.at_most = below(random, grades + 1);
    // "no" or one grade, and "yes" for at least the weakest of two.
    answer.at_least = answer.at_most;
    if (grades == 2 && answer.at_most == 2 && happens(random, 0.5)) answer.at_least = 1;
    finding.answer = answer;
  }
  return finding;
}

std::string node_text(const RandomRules& rules, std::size_t index, std::mt19937_64& random) {
  const RandomNode& node = rules.nodes[index];
  std::vector<std::string> lines;
  const std::string rate = node.inside ? "    otherwise in " : "    found in ";
  lines.push_back(rate + count(node.rate) + " jobs\n");
  for (std::size_t other = index + 1; other < rules.nodes.size(); ++other) {
    for (const auto& maker : rules.nodes[other].makers) {
      if (maker.node != index) continue;
      const std::string word = rules.nodes[other].inside ? "    shows " : "    then causes ";
      lines.push_back(word + name_of_node(rules, other) + " in " + count(maker.share) + " jobs\n");
    }
  }
  for (std::size_t f = 0; f < rules.findings.size(); ++f) {
    for (const auto& shown : rules.findings[f].by) {
      if (shown.node == index)
        lines.push_back("    shows f" + std::to_string(f) + " " + graded(shown.share) + "\n");
    }
  }
  std::shuffle(lines.begin(), lines.end(), random);
  std::string text = (node.inside ? "inside " : "cause ") + name_of_node(rules, index) + "\n";
  for (const std::string& line : lines) text += line;
  return text;
}

std::string finding_text(const RandomRules& rules, std::size_t index) {
  const RandomFinding& finding = rules.findings[index];
  std::string text = "finding f" + std::to_string(index) + "\n    asks \"Is it there?\"\n";
  if (finding.otherwise.size() == 2) text += "    grade weak\n    grade strong\n";
  return text + "    otherwise " + graded(finding.otherwise) + "\n";
}

}  // namespace

std::string name_of_node(const RandomRules& rules, std::size_t node) {
  return (rules.nodes[node].inside ? "inner" : "cause") + std::to_string(node);
}

std::string RandomRules::text(std::mt19937_64& random) const {
  std::vector<std::string> declarations;
  for (std::size_t i = 0; i < nodes.size(); ++i)
    declarations.push_back(node_text(*this, i, random));
  for (std::size_t f = 0; f < findings.size(); ++f) declarations.push_back(finding_text(*this, f));
  std::shuffle(declarations.begin(), declarations.end(), random);
  std::string text = "language 1\n";
  for (const std::string& declaration : declarations) text += "\n" + declaration;
  return text;
}

std::string RandomRules::card(std::mt19937_64& random) const {
  std::vector<std::string> answers;
  for (std::size_t f = 0; f < findings.size(); ++f) {
    const auto& answer = findings[f].answer;
    if (!answer) continue;
    const bool graded = findings[f].otherwise.size() == 2;
    std::string word = answer->at_least == 0 ? "no" : "yes";
    if (graded && answer->at_least == answer->at_most && answer->at_least > 0) {
      word = answer->at_least == 1 ? "weak" : "strong";
    }
    answers.push_back("  f" + std::to_string(f) + ": " + word + "\n");
  }
  std::shuffle(answers.begin(), answers.end(), random);
  std::string text = "job: random\nunit: six_speed\nopened: 2031-04-17\n";
  if (!answers.empty()) text += "answers:\n";
  for (const std::string& line : answers) text += line;
  return text;
}

RandomRules make_random_rules(std::mt19937_64& random) {
  RandomRules rules;
  const std::size_t nodes = 3 + below(random, 6);
  for (std::size_t i = 0; i < nodes; ++i) rules.nodes.push_back(make_node(random, rules.nodes));
  const std::size_t findings = 3 + below(random, 6);
  for (std::size_t f = 0; f < findings; ++f)
    rules.findings.push_back(make_finding(random, rules.nodes));
  return rules;
}

ExactAnswer exact_answer(const RandomRules& rules) {
  std::vector<ExactFinding> numbers;
  for (const RandomFinding& finding : rules.findings) numbers.push_back(exact(finding));
  ExactAnswer result;
  result.chance.assign(rules.nodes.size(), 0);
  for (std::size_t setting = 0; setting < std::size_t{1} << rules.nodes.size(); ++setting) {
    mpq_class weight = 1;
    for (std::size_t i = 0; i < rules.nodes.size(); ++i)
      weight *= weight_of_node(rules, i, setting);
    for (std::size_t f = 0; f < rules.findings.size(); ++f) {
      const RandomFinding& finding = rules.findings[f];
      if (!finding.answer) continue;
      weight *= below_grade(finding, numbers[f], finding.answer->at_most + 1, setting) -
                below_grade(finding, numbers[f], finding.answer->at_least, setting);
    }
    result.evidence += weight;
    for (std::size_t i = 0; i < rules.nodes.size(); ++i) {
      if ((setting >> i & 1U) != 0) result.chance[i] += weight;
    }
  }
  for (mpq_class& chance : result.chance) {
    if (result.evidence != 0) chance /= result.evidence;
  }
  return result;
}

}  // namespace reference
