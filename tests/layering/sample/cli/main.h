#include "cli_only.h"
#include "late/late.h"
#include "slipcase/open.h"
