#include "tpt-intake-verifier.h"

/* Enough to keep both threads busy, little enough to lose. */
#define MOST_WAITING 8

typedef struct {
  TptCopy *copy;      /* (owned) */
  char *destination;  /* (owned) */
} Item;

struct _TptIntakeVerifier {
  GThread *thread;            /* (owned) */
  GCancellable *cancellable;  /* (owned) (nullable) */
  GMutex lock;
  GCond changed;
  GQueue waiting;             /* (element-type Item): under @lock */
  gboolean closed;            /* under @lock */
  GError *error;              /* (owned) (nullable): the first, under @lock */
};

static void
free_item (gpointer data)
{
  Item *item = data;

  tpt_copy_free (item->copy);
  g_free (item->destination);
  g_free (item);
}

G_DEFINE_AUTOPTR_CLEANUP_FUNC (Item, free_item)

/* (transfer full) (nullable): NULL when there will be no more. */
static Item *
take_item (TptIntakeVerifier *verifier)
{
  g_autoptr (GMutexLocker) locker = g_mutex_locker_new (&verifier->lock);

  while (g_queue_is_empty (&verifier->waiting) && !verifier->closed)
    g_cond_wait (&verifier->changed, &verifier->lock);
  return verifier->error == NULL ? g_queue_peek_head (&verifier->waiting) : NULL;
}

static void
end_item (TptIntakeVerifier *verifier, GError *error)
{
  g_autoptr (GMutexLocker) locker = g_mutex_locker_new (&verifier->lock);

  g_queue_pop_head (&verifier->waiting);
  if (error != NULL && verifier->error == NULL)
    verifier->error = error;
  else
    g_clear_error (&error);
  g_cond_broadcast (&verifier->changed);
}

static gpointer
verify_cb (gpointer user_data)
{
  TptIntakeVerifier *verifier = user_data;
  Item *next;

  while ((next = take_item (verifier)) != NULL)
    {
      g_autoptr (Item) item = next;
      GError *error = NULL;

      tpt_copy_finish (g_steal_pointer (&item->copy), item->destination, verifier->cancellable, NULL, &error);
      end_item (verifier, error);
    }
  return NULL;
}

TptIntakeVerifier *
tpt_intake_verifier_new (GCancellable *cancellable)
{
  TptIntakeVerifier *verifier = g_new0 (TptIntakeVerifier, 1);

  g_mutex_init (&verifier->lock);
  g_cond_init (&verifier->changed);
  g_queue_init (&verifier->waiting);
  verifier->cancellable = cancellable != NULL ? g_object_ref (cancellable) : NULL;
  verifier->thread = g_thread_new ("verify", verify_cb, verifier);
  return verifier;
}

gboolean
tpt_intake_verifier_push (TptIntakeVerifier *verifier, TptCopy *copy, const char *destination, GError **error)
{
  g_autoptr (TptCopy) owned = copy;
  g_autoptr (GMutexLocker) locker = g_mutex_locker_new (&verifier->lock);
  Item *item;

  while (g_queue_get_length (&verifier->waiting) >= MOST_WAITING && verifier->error == NULL)
    g_cond_wait (&verifier->changed, &verifier->lock);
  if (verifier->error != NULL)
    {
      g_propagate_error (error, g_error_copy (verifier->error));
      return FALSE;
    }

  item = g_new0 (Item, 1);
  item->copy = g_steal_pointer (&owned);
  item->destination = g_strdup (destination);
  g_queue_push_tail (&verifier->waiting, item);
  g_cond_broadcast (&verifier->changed);
  return TRUE;
}

static void
close_verifier (TptIntakeVerifier *verifier)
{
  g_mutex_lock (&verifier->lock);
  verifier->closed = TRUE;
  g_cond_broadcast (&verifier->changed);
  g_mutex_unlock (&verifier->lock);
  g_thread_join (g_steal_pointer (&verifier->thread));
}

static void
release_verifier (TptIntakeVerifier *verifier)
{
  g_queue_clear_full (&verifier->waiting, free_item);
  g_clear_error (&verifier->error);
  g_clear_object (&verifier->cancellable);
  g_mutex_clear (&verifier->lock);
  g_cond_clear (&verifier->changed);
  g_free (verifier);
}

gboolean
tpt_intake_verifier_finish (TptIntakeVerifier *verifier, GError **error)
{
  gboolean good;

  close_verifier (verifier);
  good = verifier->error == NULL;
  if (!good)
    g_propagate_error (error, g_steal_pointer (&verifier->error));
  release_verifier (verifier);
  return good;
}

void
tpt_intake_verifier_free (TptIntakeVerifier *verifier)
{
  if (verifier == NULL)
    return;

  g_mutex_lock (&verifier->lock);
  if (verifier->error == NULL)
    verifier->error = g_error_new_literal (G_IO_ERROR, G_IO_ERROR_CANCELLED, "given up");
  g_mutex_unlock (&verifier->lock);
  close_verifier (verifier);
  release_verifier (verifier);
}
