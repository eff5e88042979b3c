// What stands behind the public handles.
#pragma once

#include <memory>
#include <string>
#include <vector>

#include "advice/rank_job.h"
#include "evaluation/evaluator.h"
#include "evaluation/job_facts.h"
#include "grounding/ground.h"
#include "model/rule_network.h"
#include "slipcase/job.h"
#include "slipcase/knowledge.h"
#include "slipcase/service.h"

namespace slipcase {

struct Knowledge::Parts {
  std::shared_ptr<SourceSet> sources;
  std::shared_ptr<const profile::Profile> profile;
  std::shared_ptr<const grounding::GroundRules> ground;
  model::RuleNetwork network;
  std::size_t rule_files = 0;
  std::string fingerprint;
  evaluation::Evaluator evaluator{ground};  // keeps its buffers between jobs
};

struct Unit::Parts {
  std::shared_ptr<SourceSet> sources;
  profile::Profile profile;
};

struct Job::Parts {
  advice::JobTitle title;
  evaluation::JobFacts facts;
  std::vector<Supposed> supposed;
};

}  // namespace slipcase
