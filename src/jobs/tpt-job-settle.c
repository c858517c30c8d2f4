#include "config.h"

#include <glib/gi18n-lib.h>

#include "tpt-error.h"
#include "tpt-job-decide-private.h"
#include "tpt-job-decide.h"
#include "tpt-opinions.h"

struct _TptJobSettle {
  TptJob parent_instance;

  /* Input arguments */
  GArray *triggers; /* (owned) (element-type gint64) */
  int opinion;

  /* Results */
  gint64 changed;
};

G_DEFINE_FINAL_TYPE (TptJobSettle, tpt_job_settle, TPT_TYPE_JOB)

static gboolean
has_opinion (GArray *opinions, int number)
{
  for (guint i = 0; i < opinions->len; i++)
    if (g_array_index (opinions, TptOpinion, i).opinion == number)
      return TRUE;
  return FALSE;
}

/* What the numbers become: the one chosen 1, those that were open or counted the
 * next of the settled, all of one number alike; settled ones stay as they are. */
static void
choose_numbers (GArray *opinions, int chosen, int numbers[TPT_OPINION_MOST + 1])
{
  int next = TPT_OPINION_SETTLED;

  for (guint i = 0; i < opinions->len; i++)
    {
      int number = g_array_index (opinions, TptOpinion, i).opinion;

      numbers[number] = number;
      if (number != chosen)
        next = MAX (next, number + 1);
    }
  numbers[chosen] = 1;
  for (int number = 1; number < TPT_OPINION_SETTLED; number++)
    if (numbers[number] == number && number != chosen)
      {
        numbers[number] = MIN (next, TPT_OPINION_MOST);
        next++;
      }
}

static gboolean
settle_one (gpointer data, TptStore *store, gint64 trigger_id, gboolean *changed, GError **error)
{
  TptJobSettle *self = data;
  g_autoptr (GArray) opinions = tpt_store_read_opinions (store, trigger_id, error);
  int numbers[TPT_OPINION_MOST + 1] = { 0 };

  if (opinions == NULL)
    return FALSE;
  if (!has_opinion (opinions, self->opinion))
    return TRUE;
  choose_numbers (opinions, self->opinion, numbers);
  for (guint i = 0; i < opinions->len; i++)
    {
      const TptOpinion *one = &g_array_index (opinions, TptOpinion, i);
      int number = numbers[one->opinion];

      if (number == one->opinion)
        continue;
      *changed = TRUE;
      if (!tpt_store_number_opinion (store, one->id, number, error))
        return FALSE;
    }
  return TRUE;
}

static gboolean
tpt_job_settle_run (TptJob *job, TptStore *store, GCancellable *cancellable, GError **error)
{
  TptJobSettle *self = TPT_JOB_SETTLE (job);
  guint n = self->triggers->len;
  g_autofree char *what =
    self->opinion > 1
      ? g_strdup_printf (ngettext ("Let another opinion count for %u trigger", "Let another opinion count for %u triggers", n), n)
      : g_strdup_printf (ngettext ("Settle what counts for %u trigger", "Settle what counts for %u triggers", n), n);

  if (self->opinion < 1 || self->opinion > TPT_OPINION_MOST)
    {
      g_set_error_literal (error, TPT_ERROR, TPT_ERROR_USAGE, _("There is no opinion of that number"));
      return FALSE;
    }
  return tpt_decide_each (store, what, self->triggers, settle_one, self, &self->changed, cancellable, error);
}

static void
tpt_job_settle_dispose (GObject *object)
{
  g_clear_pointer (&TPT_JOB_SETTLE (object)->triggers, g_array_unref);

  G_OBJECT_CLASS (tpt_job_settle_parent_class)->dispose (object);
}

static void
tpt_job_settle_class_init (TptJobSettleClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = tpt_job_settle_dispose;
  TPT_JOB_CLASS (klass)->run = tpt_job_settle_run;
  TPT_JOB_CLASS (klass)->writes = TRUE;
}

static void
tpt_job_settle_init (TptJobSettle *self)
{
}

TptJobSettle *
tpt_job_settle_new (const gint64 *trigger_ids, guint n, int opinion)
{
  TptJobSettle *self = g_object_new (TPT_TYPE_JOB_SETTLE, NULL);

  self->triggers = tpt_decide_keys (trigger_ids, n);
  self->opinion = opinion;
  return self;
}
