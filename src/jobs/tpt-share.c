#include "config.h"

#include "tpt-share-private.h"

/* Pieces that are worth a thread. */
#define FEWEST 8

/* Whoever is free takes the next. */
typedef struct {
  guint n;
  TptShareFunc work;
  gpointer data;
  GCancellable *cancellable;
  gint next;
} Share;

static gpointer
work_cb (gpointer data)
{
  Share *share = data;
  guint i;

  while ((i = (guint) g_atomic_int_add (&share->next, 1)) < share->n && !g_cancellable_is_cancelled (share->cancellable))
    share->work (share->data, i);
  return NULL;
}

void
tpt_share_work (guint n, TptShareFunc work, gpointer data, GCancellable *cancellable)
{
  Share share = { n, work, data, cancellable, 0 };
  guint n_helpers = MIN (g_get_num_processors (), MAX (n / FEWEST, 1)) - 1;
  g_autofree GThread **helpers = g_new0 (GThread *, n_helpers + 1);

  for (guint i = 0; i < n_helpers; i++)
    helpers[i] = g_thread_try_new ("share", work_cb, &share, NULL);
  work_cb (&share);
  for (guint i = 0; i < n_helpers; i++)
    if (helpers[i] != NULL)
      g_thread_join (helpers[i]);
}
