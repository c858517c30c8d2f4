#include "config.h"

#include "tpt-job-check.h"

#include <glib/gi18n-lib.h>
#include <glib/gstdio.h>

#include "tpt-batches.h"
#include "tpt-copy.h"

#define PAGE 500

struct _TptJobCheck {
  TptJob parent_instance;

  /* Input arguments */
  gboolean pictures;

  /* Results */
  GPtrArray *problems; /* (owned) (nullable) */
};

G_DEFINE_FINAL_TYPE (TptJobCheck, tpt_job_check, TPT_TYPE_JOB)

static void
report (TptJobCheck *self, const char *format, const char *file)
{
  g_autofree char *utf8 = g_filename_display_name (file);
  g_auto (GStrv) parts = g_strsplit (format, "%s", 2);

  g_ptr_array_add (self->problems, g_strconcat (parts[0], utf8, parts[1], NULL));
}

static void
check_picture (TptJobCheck *self, TptStore *store, const TptPictureRow *row, GCancellable *cancellable)
{
  g_autofree char *path = g_build_filename (tpt_store_get_folder (store), row->file, NULL);
  char sha256[TPT_SHA256_SIZE];
  GStatBuf info;

  if (g_stat (path, &info) != 0)
    report (self, _("The picture %s is not there"), row->file);
  else if (row->bytes >= 0 && info.st_size != row->bytes)
    report (self, _("The picture %s has another size than was taken in"), row->file);
  else if (row->sha256 != NULL && !tpt_copy_hash (path, FALSE, NULL, NULL, sha256, NULL, cancellable, NULL))
    report (self, _("The picture %s cannot be read"), row->file);
  else if (row->sha256 != NULL && g_strcmp0 (sha256, row->sha256) != 0)
    report (self, _("The picture %s has other content than was taken in"), row->file);
}

static gboolean
check_pictures (TptJobCheck *self, TptStore *store, GCancellable *cancellable, GError **error)
{
  gint64 after = 0, done = 0, total;

  if (!tpt_store_count_pictures (store, &total, error))
    return FALSE;
  for (;;)
    {
      g_autoptr (GPtrArray) rows = tpt_store_page_pictures (store, after, PAGE, error);

      if (rows == NULL)
        return FALSE;
      if (rows->len == 0)
        return TRUE;
      for (guint i = 0; i < rows->len; i++)
        {
          const TptPictureRow *row = rows->pdata[i];

          if (g_cancellable_set_error_if_cancelled (cancellable, error))
            return FALSE;
          check_picture (self, store, row, cancellable);
          after = row->frame_id;
          tpt_job_report (TPT_JOB (self), (double) ++done / (double) MAX (total, 1), row->file);
        }
    }
}

static gboolean
tpt_job_check_run (TptJob *job, TptStore *store, GCancellable *cancellable, GError **error)
{
  TptJobCheck *self = TPT_JOB_CHECK (job);

  self->problems = tpt_store_check (store, error);
  if (self->problems == NULL)
    return FALSE;
  return !self->pictures || check_pictures (self, store, cancellable, error);
}

static void
tpt_job_check_dispose (GObject *object)
{
  TptJobCheck *self = TPT_JOB_CHECK (object);

  g_clear_pointer (&self->problems, g_ptr_array_unref);

  G_OBJECT_CLASS (tpt_job_check_parent_class)->dispose (object);
}

static void
tpt_job_check_class_init (TptJobCheckClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = tpt_job_check_dispose;
  TPT_JOB_CLASS (klass)->run = tpt_job_check_run;
  TPT_JOB_CLASS (klass)->lengthy = TRUE;
}

static void
tpt_job_check_init (TptJobCheck *self)
{
}

TptJobCheck *
tpt_job_check_new (gboolean pictures)
{
  TptJobCheck *self = g_object_new (TPT_TYPE_JOB_CHECK, NULL);

  self->pictures = pictures;
  return self;
}

GPtrArray *
tpt_job_check_get_problems (TptJobCheck *self)
{
  return self->problems;
}
