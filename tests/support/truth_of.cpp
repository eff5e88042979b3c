#include "support/truth_of.h"

#include "support/job_bench.h"

namespace slipcase::test {

namespace {

constexpr std::string_view declarations = R"(
detail use : one of town, towing asks "Used how?"
detail towed : yes or no asks "Was it towed?"
detail odometer : distance
detail built : date asks "Built when?"
detail sump : temperature asks "How warm is the sump?"
reading fill_pressure of element : pressure
reading fill_time of element : time
reading turbine_speed of gear : rotation
reading output_speed of gear : rotation
event values_cleared asks "Cleared?"
event battery_flat counts as values_cleared
event software_updated
event fluid_service
event drum_rebuilt of element
finding smell asks "Does it smell?" otherwise in 1 of 100 jobs
finding noise asks "Is it noisy?" otherwise in 1 of 100 jobs
finding mark of element asks "Marked?" otherwise in 1 of 100 jobs
finding flare of shift
    asks "Does it flare?"
    grade sometimes
    grade always
    otherwise sometimes or more in 2, always in 1 of 100 jobs
cause worn of element
    found in 1 of 50 jobs
    shows mark of element in 5 of 10 jobs
repair learning_drive takes 1 h cures worn of each element
)";

}  // namespace

std::string truth_of(std::string_view condition, std::string_view card) {
  JobBench bench(std::string(declarations) + "finding probe\n    when " + std::string(condition) +
                 "\n    otherwise in 1 of 100 jobs\n");
  const std::string state = bench.state("probe", card);
  if (state == "present") return "yes";
  return state == "absent" ? "no" : state;
}

}  // namespace slipcase::test
