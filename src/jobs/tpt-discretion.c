#include "config.h"

#include "tpt-discretion-private.h"

/* Chapman 2020, "Current Best Practices for Generalizing Sensitive Species
 * Occurrence Data", table of categories. */
static const struct {
  const char *sensitivity;
  int decimals;
} cells[] = {
  { "low", 3 },
  { "medium", 2 },
  { "high", 1 },
  { "extreme", 0 },
};

int
tpt_discretion_decimals (TptRecord *record)
{
  const char *sensitivity = tpt_record_get_text (record, "sensitivity");

  for (gsize i = 0; i < G_N_ELEMENTS (cells); i++)
    if (g_strcmp0 (sensitivity, cells[i].sensitivity) == 0)
      return cells[i].decimals;
  return TPT_DISCRETION_FINEST;
}

int
tpt_discretion_floor (TptStore *store)
{
  double floor_deg = tpt_store_get_setting_real (store, "floor_deg", 0.01);

  return floor_deg > 0.1 ? 0 : floor_deg > 0.01 ? 1 : floor_deg > 0.001 ? 2 : TPT_DISCRETION_FINEST;
}
