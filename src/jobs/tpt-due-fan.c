#include "config.h"

#include "tpt-due-fan.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "tpt-due-facts-private.h"

#define N_POINTS 40
#define HALVINGS 14

/* The chance that at most @share of a whole charge is left after some days.
 *
 * With L the charge left at time 0 and used what its cells had given before,
 * (L - drain) / (L + used) <= share is L <= (drain + share used) / (1 - share):
 * the chance of running out with a drain that is larger by so much. */
static double
chance_below (const SciRate *rate, const SciUnit *unit, double used_mah, double days, double share)
{
  SciUnit harder = *unit;

  harder.sleep_ma = (unit->sleep_ma + share * used_mah / (24 * days)) / (1 - share);
  harder.mas_per_trigger = unit->mas_per_trigger / (1 - share);
  return sci_unit_p_out (rate, &harder, days);
}

static double
quantile_of (const SciRate *rate, const SciUnit *unit, double used_mah, double days, double p)
{
  double low = 0, high = 1;

  if (chance_below (rate, unit, used_mah, days, 0) >= p)
    return 0;
  for (int i = 0; i < HALVINGS; i++)
    {
      double middle = (low + high) / 2;

      if (chance_below (rate, unit, used_mah, days, middle) < p)
        low = middle;
      else
        high = middle;
    }
  return (low + high) / 2;
}

static const TptFittingRow *
find_open_fitting (const TptDueFacts *facts, gint64 unit_id)
{
  guint n;
  const TptFittingRow *rows = tpt_due_facts_find_fittings (facts, unit_id, &n);

  return n > 0 && rows[n - 1].to == TPT_NO_INSTANT ? &rows[n - 1] : NULL;
}

static void
fill_fan (const TptDueFacts *facts, const TptDueDeployment *deployment, const SciUnit *unit, double used_mah, TptInstant until,
          GArray *fan)
{
  TptInstant known = tpt_due_known_at (facts, deployment, NULL);
  SciRate rate = tpt_due_rate (facts, deployment, known);

  for (int i = 0; i <= N_POINTS && until > known; i++)
    {
      /* A minute past time 0: a chance needs some time to be one. */
      TptInstant at = known + MAX (TPT_MINUTE, (until - known) * i / N_POINTS);
      double days = tpt_due_day (at) - tpt_due_day (known);
      TptFanPoint point = {
        .at = at,
        .low = quantile_of (&rate, unit, used_mah, days, 0.1),
        .mid = quantile_of (&rate, unit, used_mah, days, 0.5),
        .high = quantile_of (&rate, unit, used_mah, days, 0.9),
      };

      g_array_append_val (fan, point);
    }
}

gboolean
tpt_due_unit_fan (TptStore *store, const char *unit, TptInstant on, TptInstant until, GArray **fan, char **why_not, GError **error)
{
  g_autoptr (TptDueFacts) facts = tpt_due_facts_new (store, on, until, error);
  const TptFittingRow *fitting;
  const TptDueDeployment *deployment;
  const TptDueLife *life;
  TptRecord *record;
  SciUnit energy;
  double full;
  gint64 id;

  if (facts == NULL)
    return FALSE;
  *fan = g_array_new (FALSE, FALSE, sizeof (TptFanPoint));
  *why_not = NULL;
  record = g_hash_table_lookup (facts->units, unit);
  id = record != NULL ? tpt_record_get_id (record) : 0;
  fitting = find_open_fitting (facts, id);
  deployment = fitting != NULL ? tpt_due_facts_find_deployment (facts, fitting->deployment_id) : NULL;
  life = g_hash_table_lookup (facts->lives, &id);
  if (deployment == NULL || deployment->end < on)
    *why_not = g_strdup (_("cannot say because it stands in no rig"));
  else if (life == NULL)
    *why_not = g_strdup (_("cannot say because no cells are on record for it"));
  if (*why_not != NULL)
    return TRUE;
  energy = tpt_due_unit (facts, deployment, record, &full, why_not);
  if (*why_not == NULL)
    fill_fan (facts, deployment, &energy, life->expected * full, until, *fan);
  return TRUE;
}
