// What stands behind the public handles.
#pragma once

#include <memory>
#include <string>

#include "advice/rank_job.h"
#include "evaluation/evaluator.h"
#include "evaluation/job_facts.h"
#include "grounding/ground.h"
#include "model/rule_network.h"
#include "slipcase/job.h"
#include "slipcase/knowledge.h"

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

struct Job::Parts {
  advice::JobTitle title;
  evaluation::JobFacts facts;
};

}  // namespace slipcase
