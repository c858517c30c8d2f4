#include "config.h"

#include <glib/gi18n-lib.h>

#include "tpt-error.h"
#include "tpt-job-decide-private.h"
#include "tpt-job-decide.h"
#include "tpt-opinions.h"

struct _TptJobMark {
  TptJob parent_instance;

  /* Input arguments */
  GArray *frames; /* (owned) (element-type gint64) */
  char *mark;     /* (owned) */
  gboolean on;
  char *by;       /* (owned) (nullable) */

  /* Results */
  gint64 changed;
};

G_DEFINE_FINAL_TYPE (TptJobMark, tpt_job_mark, TPT_TYPE_JOB)

static gboolean
mark_one (gpointer data, TptStore *store, gint64 frame_id, gboolean *changed, GError **error)
{
  TptJobMark *self = data;

  return tpt_store_mark_frame (store, frame_id, self->mark, self->on, self->by, changed, error);
}

static char *
name_action (TptJobMark *self)
{
  guint n = self->frames->len;

  return self->on ? g_strdup_printf (ngettext ("Mark %u frame as good for guests", "Mark %u frames as good for guests", n), n)
                  : g_strdup_printf (ngettext ("Take the mark for guests off %u frame", "Take the mark for guests off %u frames", n), n);
}

static gboolean
tpt_job_mark_run (TptJob *job, TptStore *store, GCancellable *cancellable, GError **error)
{
  TptJobMark *self = TPT_JOB_MARK (job);
  g_autofree char *what = name_action (self);

  if (!g_str_equal (self->mark, "guests"))
    {
      g_set_error (error, TPT_ERROR, TPT_ERROR_USAGE, _("“%s” is not a mark"), self->mark);
      return FALSE;
    }
  return tpt_decide_each (store, what, self->frames, mark_one, self, &self->changed, cancellable, error);
}

static void
tpt_job_mark_dispose (GObject *object)
{
  TptJobMark *self = TPT_JOB_MARK (object);

  g_clear_pointer (&self->frames, g_array_unref);
  g_clear_pointer (&self->mark, g_free);
  g_clear_pointer (&self->by, g_free);

  G_OBJECT_CLASS (tpt_job_mark_parent_class)->dispose (object);
}

static void
tpt_job_mark_class_init (TptJobMarkClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = tpt_job_mark_dispose;
  TPT_JOB_CLASS (klass)->run = tpt_job_mark_run;
  TPT_JOB_CLASS (klass)->writes = TRUE;
}

static void
tpt_job_mark_init (TptJobMark *self)
{
}

TptJobMark *
tpt_job_mark_new (const gint64 *frame_ids, guint n, const char *mark, gboolean on, const char *by)
{
  TptJobMark *self = g_object_new (TPT_TYPE_JOB_MARK, NULL);

  self->frames = tpt_decide_keys (frame_ids, n);
  self->mark = g_strdup (mark);
  self->on = on;
  self->by = g_strdup (by);
  return self;
}
