#include "config.h"

#include "tpt-due-inputs-private.h"

static GQuark
get_quark (void)
{
  return g_quark_from_static_string ("tpt-due-inputs");
}

static void
free_inputs (gpointer data)
{
  TptDueInputs *inputs = data;

  g_free (inputs->units);
  g_free (inputs);
}

void
tpt_due_inputs_keep (TptStationItem *item, const TptDueInputs *inputs)
{
  TptDueInputs *copy = g_memdup2 (inputs, sizeof *inputs);

  copy->units = g_memdup2 (inputs->units, inputs->n_units * sizeof *inputs->units);
  g_object_set_qdata_full (G_OBJECT (item), get_quark (), copy, free_inputs);
}

const TptDueInputs *
tpt_due_inputs_of (TptStationItem *item)
{
  return g_object_get_qdata (G_OBJECT (item), get_quark ());
}
