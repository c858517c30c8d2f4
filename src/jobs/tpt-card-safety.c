#include "config.h"

#include "tpt-card-safety-private.h"

#include <glib/gi18n-lib.h>

#include "tpt-batches.h"
#include "tpt-copy.h"
#include "tpt-records.h"

static guint
count_not_kept (const TptIntake *intake)
{
  guint n = 0;

  for (guint i = 0; i < intake->unreadable->len; i++)
    n += ((TptIntakeTrouble *) intake->unreadable->pdata[i])->kept == NULL;
  return n;
}

static gboolean
is_same (TptStore *store, TptRecord *record, const TptIntakeDuplicate *duplicate, GCancellable *cancellable, gboolean *same,
         GError **error)
{
  g_autofree char *path = g_build_filename (tpt_store_get_folder (store), tpt_record_get_text (record, "file"), NULL);
  char sha256[TPT_SHA256_SIZE];
  gint64 bytes = -1;
  GError *failure = NULL;

  *same = tpt_copy_hash (path, TRUE, NULL, NULL, sha256, &bytes, cancellable, &failure) && bytes == duplicate->bytes &&
          g_str_equal (sha256, duplicate->sha256);
  if (g_error_matches (failure, G_IO_ERROR, G_IO_ERROR_CANCELLED))
    {
      g_propagate_error (error, failure);
      return FALSE;
    }
  g_clear_error (&failure); /* a picture that cannot be read back is none */
  return TRUE;
}

/* How many of the pictures that were on record already are no longer there. */
static gboolean
count_gone (TptStore *store, const TptIntake *intake, guint *gone, GCancellable *cancellable, GError **error)
{
  *gone = 0;
  for (guint i = 0; i < intake->duplicates->len; i++)
    {
      const TptIntakeDuplicate *duplicate = intake->duplicates->pdata[i];
      g_autofree char *code = tpt_frame_code (duplicate->sha256);
      g_autoptr (TptRecord) record = NULL;
      GError *failure = NULL;
      gboolean same = FALSE;

      if (duplicate->of != NULL)
        continue;
      record = tpt_store_find (store, TPT_TABLE_FRAMES, code, &failure);
      if (failure != NULL)
        {
          g_propagate_error (error, failure);
          return FALSE;
        }
      if (record != NULL && !is_same (store, record, duplicate, cancellable, &same, error))
        return FALSE;
      *gone += !same;
    }
  return TRUE;
}

gboolean
tpt_card_check_safe (TptStore *store, const TptIntake *intake, char **why_not, GCancellable *cancellable, GError **error)
{
  guint not_kept = count_not_kept (intake), missing = intake->missing->len, gone;

  *why_not = NULL;
  if (!count_gone (store, intake, &gone, cancellable, error))
    return FALSE;
  if (not_kept > 0)
    *why_not = g_strdup_printf (ngettext ("%u file on it could not be read.", "%u files on it could not be read.", not_kept), not_kept);
  else if (missing > 0)
    *why_not = g_strdup_printf (ngettext ("%u file on it is not in the pictures’ folder.",
                                          "%u files on it are not in the pictures’ folder.", missing), missing);
  else if (gone > 0)
    *why_not = g_strdup_printf (ngettext ("%u picture on it is on record, but its copy is gone or has changed.",
                                          "%u pictures on it are on record, but their copies are gone or have changed.", gone), gone);
  return TRUE;
}
