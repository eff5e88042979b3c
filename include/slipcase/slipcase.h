// Everything a program that uses Slipcase needs.
#pragma once

#include "slipcase/diagnostic.h"
#include "slipcase/drive.h"
#include "slipcase/job.h"
#include "slipcase/knowledge.h"
#include "slipcase/next.h"
#include "slipcase/probability.h"
#include "slipcase/ranking.h"
#include "slipcase/reasons.h"
#include "slipcase/report.h"
#include "slipcase/review.h"
#include "slipcase/rules_list.h"
#include "slipcase/service.h"
#include "slipcase/source.h"
#include "slipcase/trials.h"
#include "slipcase/version.h"
