#include "tpt-previews-private.h"

typedef struct {
  char *name;          /* (owned) */
  TptPicture *picture; /* (owned) */
  GList link;          /* in `used` */
} Entry;

static void
free_entry (gpointer data)
{
  Entry *entry = data;

  g_free (entry->name);
  tpt_picture_unref (entry->picture);
  g_free (entry);
}

void
tpt_preview_stock_init (TptPreviewStock *stock, gsize most)
{
  *stock = (TptPreviewStock) { .most = most };
  stock->entries = g_hash_table_new_full (g_str_hash, g_str_equal, NULL, free_entry);
  g_queue_init (&stock->used);
}

void
tpt_preview_stock_clear (TptPreviewStock *stock)
{
  g_clear_pointer (&stock->entries, g_hash_table_unref);
}

TptPicture *
tpt_preview_stock_find (TptPreviewStock *stock, const char *name)
{
  Entry *entry = g_hash_table_lookup (stock->entries, name);

  if (entry == NULL)
    return NULL;
  g_queue_unlink (&stock->used, &entry->link);
  g_queue_push_head_link (&stock->used, &entry->link);
  return tpt_picture_ref (entry->picture);
}

static void
forget (TptPreviewStock *stock, Entry *entry)
{
  g_queue_unlink (&stock->used, &entry->link);
  stock->bytes -= g_bytes_get_size (entry->picture->pixels);
  g_hash_table_remove (stock->entries, entry->name);
}

void
tpt_preview_stock_add (TptPreviewStock *stock, const char *name, TptPicture *picture)
{
  Entry *entry = g_hash_table_lookup (stock->entries, name);
  gsize bytes = g_bytes_get_size (picture->pixels);

  if (entry != NULL)
    forget (stock, entry);
  if (bytes > stock->most)
    return;
  while (stock->bytes + bytes > stock->most)
    forget (stock, stock->used.tail->data);

  entry = g_new0 (Entry, 1);
  entry->name = g_strdup (name);
  entry->picture = tpt_picture_ref (picture);
  entry->link.data = entry;
  g_hash_table_insert (stock->entries, entry->name, entry);
  g_queue_push_head_link (&stock->used, &entry->link);
  stock->bytes += bytes;
  stock->peak = MAX (stock->peak, stock->bytes);
}
