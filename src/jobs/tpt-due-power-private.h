/* Energy of a unit, for the forecast, the chart of its charge and the rig's check. */
#pragma once

#include "sci-energy.h"
#include "tpt-record.h"

G_BEGIN_DECLS

SciChemistry tpt_due_chemistry (TptRecord *unit);

G_END_DECLS
