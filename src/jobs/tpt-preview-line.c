#include "tpt-previews-private.h"

static void
free_wish (gpointer data)
{
  TptPreviewWish *wish = data;

  g_free (wish->name);
  g_free (wish->path);
  g_free (wish->key);
  g_ptr_array_unref (wish->waiters);
  g_free (wish);
}

void
tpt_preview_line_init (TptPreviewLine *line)
{
  *line = (TptPreviewLine) { 0 };
  line->wishes = g_hash_table_new_full (g_str_hash, g_str_equal, NULL, free_wish);
  g_queue_init (&line->waiting);
  g_queue_init (&line->ahead);
}

void
tpt_preview_line_clear (TptPreviewLine *line)
{
  g_clear_pointer (&line->wishes, g_hash_table_unref);
}

static TptPreviewWish *
add_wish (TptPreviewLine *line, const char *name, const char *path, const char *key, int size)
{
  TptPreviewWish *wish = g_new0 (TptPreviewWish, 1);

  wish->name = g_strdup (name);
  wish->path = g_strdup (path);
  wish->key = g_strdup (key);
  wish->size = size;
  wish->link.data = wish;
  wish->waiters = g_ptr_array_new ();
  g_hash_table_insert (line->wishes, wish->name, wish);
  return wish;
}

static void
leave (TptPreviewLine *line, TptPreviewWish *wish)
{
  g_queue_unlink (wish->ahead ? &line->ahead : &line->waiting, &wish->link);
}

TptPreviewWish *
tpt_preview_line_want (TptPreviewLine *line, const char *name, const char *path, const char *key, int size, gboolean ahead)
{
  TptPreviewWish *wish = g_hash_table_lookup (line->wishes, name);

  if (wish == NULL)
    {
      wish = add_wish (line, name, path, key, size);
      wish->ahead = TRUE;
      g_queue_push_tail_link (&line->ahead, &wish->link);
    }
  if (ahead)
    return wish;

  /* Somebody waits for it now. */
  if (wish->running)
    line->n_ahead -= wish->ahead;
  else
    {
      leave (line, wish);
      g_queue_push_head_link (&line->waiting, &wish->link);
    }
  wish->ahead = FALSE;
  return wish;
}

TptPreviewWish *
tpt_preview_line_take (TptPreviewLine *line, guint most_ahead)
{
  GList *link = g_queue_pop_head_link (&line->waiting);
  TptPreviewWish *wish;

  if (link == NULL && line->n_ahead < most_ahead)
    link = g_queue_pop_head_link (&line->ahead);
  if (link == NULL)
    return NULL;
  wish = link->data;
  wish->running = TRUE;
  line->n_ahead += wish->ahead;
  return wish;
}

void
tpt_preview_line_end (TptPreviewLine *line, TptPreviewWish *wish)
{
  if (!wish->running)
    leave (line, wish);
  else if (wish->ahead)
    line->n_ahead--;
  g_hash_table_remove (line->wishes, wish->name);
}

void
tpt_preview_line_forget_ahead (TptPreviewLine *line)
{
  GList *link;

  while ((link = g_queue_peek_head_link (&line->ahead)) != NULL)
    tpt_preview_line_end (line, link->data);
}
