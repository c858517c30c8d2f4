/* Energy of a unit, for the files of the forecast. */
#pragma once

#include "sci-energy.h"
#include "tpt-record.h"

G_BEGIN_DECLS

SciChemistry tpt_due_chemistry (TptRecord *unit);

G_END_DECLS
