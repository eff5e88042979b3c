// A made-up tree in which every file breaks a rule; the layering check must name each line.
#include <yaml-cpp/yaml.h>

#include "late/late.h"
