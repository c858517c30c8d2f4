#include "tpt-blanks-private.h"

static TptInstant
get_last_moment (const TptVerdict *verdict)
{
  TptInstant end = MAX (verdict->end, verdict->start);

  return end % TPT_SECOND == 0 ? end + TPT_SECOND - 1 : end;
}

static guint
count_own (GArray *rows, gsize size, guint from)
{
  gint64 deployment = *(const gint64 *) (gpointer) (rows->data + from * size);
  guint n = 0;

  while (from + n < rows->len && *(const gint64 *) (gpointer) (rows->data + (from + n) * size) == deployment)
    n++;
  return n;
}

static void
judge (TptFired *fired, const TptVerdict *verdict)
{
  fired->what = MAX (fired->what, verdict->blank ? TPT_FIRED_BLANK : TPT_FIRED_SEEN);
}

/* Triggers of one deployment, and what was said of it. Bursts of one camera do
 * not overlap, so that their ends are in order as well. */
static void
judge_firings (const TptFiring *firings, guint n, const TptVerdict *verdicts, guint n_verdicts, GArray *all)
{
  guint base = all->len;

  for (guint i = 0; i < n; i++)
    {
      TptFired fired = { firings[i].deployment_id, firings[i].start, TPT_FIRED_UNDECIDED };

      g_array_append_val (all, fired);
    }
  for (guint v = 0; v < n_verdicts; v++)
    {
      guint low = 0, high = n;

      while (low < high)
        {
          guint middle = (low + high) / 2;

          if (firings[middle].end < verdicts[v].start)
            low = middle + 1;
          else
            high = middle;
        }
      for (; low < n && firings[low].start <= get_last_moment (&verdicts[v]); low++)
        judge (&g_array_index (all, TptFired, base + low), &verdicts[v]);
    }
}

static void
judge_alone (const TptVerdict *verdicts, guint n, GArray *all)
{
  for (guint i = 0; i < n; i++)
    {
      TptFired fired = { verdicts[i].deployment_id, verdicts[i].start, TPT_FIRED_UNDECIDED };

      if (i == 0 || verdicts[i].start != verdicts[i - 1].start)
        g_array_append_val (all, fired);
      judge (&g_array_index (all, TptFired, all->len - 1), &verdicts[i]);
    }
}

GArray *
tpt_blanks_decide (GArray *firings, GArray *verdicts)
{
  GArray *all = g_array_new (FALSE, FALSE, sizeof (TptFired));
  guint f = 0, v = 0;

  while (f < firings->len || v < verdicts->len)
    {
      const TptFiring *firing = f < firings->len ? &g_array_index (firings, TptFiring, f) : NULL;
      const TptVerdict *verdict = v < verdicts->len ? &g_array_index (verdicts, TptVerdict, v) : NULL;
      gboolean fired = firing != NULL && (verdict == NULL || firing->deployment_id <= verdict->deployment_id);
      gboolean judged = verdict != NULL && (firing == NULL || verdict->deployment_id <= firing->deployment_id);
      guint n_firings = fired ? count_own (firings, sizeof (TptFiring), f) : 0;
      guint n_verdicts = judged ? count_own (verdicts, sizeof (TptVerdict), v) : 0;

      if (fired)
        judge_firings (firing, n_firings, verdict, n_verdicts, all);
      else
        judge_alone (verdict, n_verdicts, all);
      f += n_firings;
      v += n_verdicts;
    }
  return all;
}
