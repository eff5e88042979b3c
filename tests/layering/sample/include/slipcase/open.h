#include "late/late.h"
