/* How coarse a place must be for people. */
#pragma once

#include "tpt-record.h"
#include "tpt-store.h"

G_BEGIN_DECLS

/* Decimals of a degree of the finest cell anything is shown in. */
#define TPT_DISCRETION_FINEST 3

/* Decimals of a degree of the cell that the "sensitivity" of a station or a
 * species asks for: 0 for extreme to 3 for low, none or unknown. */
int tpt_discretion_decimals (TptRecord *record);

/* The same for the floor set in the project. A floor between two steps asks
 * for the coarser. */
int tpt_discretion_floor (TptStore *store);

G_END_DECLS
