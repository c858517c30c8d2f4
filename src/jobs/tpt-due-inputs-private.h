/* What the forecast of one rig was reckoned from, kept with its station so that
 * asking about another date costs little. */
#pragma once

#include "sci-runout.h"
#include "tpt-station-item.h"

G_BEGIN_DECLS

/**
 * TptDueInputs:
 * @units: (owned): one for each of the forecast's units, in their order
 * @elapsed: days from the moment the inputs hold for to the moment of asking
 * @found_down: found out of order and left so: down whatever the rest says
 */
typedef struct {
  SciRate rate;
  SciUnit *units;
  gsize n_units;
  SciCard card;
  double elapsed;
  gboolean found_down;
} TptDueInputs;

/* Copies. */
void tpt_due_inputs_keep (TptStationItem *item, const TptDueInputs *inputs);

/* (transfer none) (nullable) */
const TptDueInputs *tpt_due_inputs_of (TptStationItem *item);

G_END_DECLS
