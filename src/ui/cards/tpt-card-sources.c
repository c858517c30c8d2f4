#include "config.h"

#include "tpt-card-sources.h"

/* A card's pictures lie near its top; of a large disk no more than so many
 * entries are looked at. */
#define MAX_ENTRIES 500

struct _TptCardSources {
  GObject parent_instance;

  GVolumeMonitor *monitor;   /* (owned) */
  GCancellable *cancellable; /* (owned): of the looks under way */
  GHashTable *shown;         /* (owned) (element-type utf8): folders that were added */
};

G_DEFINE_FINAL_TYPE (TptCardSources, tpt_card_sources, G_TYPE_OBJECT)

enum {
  ADDED,
  REMOVED,
  N_SIGNALS,
};

static guint signals[N_SIGNALS];

static gboolean
looks_like_card (GFileInfo *entry)
{
  const char *name = g_file_info_get_name (entry);
  const char *type = g_file_info_get_attribute_string (entry, G_FILE_ATTRIBUTE_STANDARD_FAST_CONTENT_TYPE);

  if (g_file_info_get_file_type (entry) == G_FILE_TYPE_DIRECTORY)
    return g_ascii_strcasecmp (name, "DCIM") == 0;
  return type != NULL && (g_str_has_prefix (type, "image/") || g_str_has_prefix (type, "video/"));
}

static void
look_in_thread (GTask *task, gpointer source, gpointer folder, GCancellable *cancellable)
{
  g_autoptr (GFileEnumerator) entries = g_file_enumerate_children (
    folder, G_FILE_ATTRIBUTE_STANDARD_NAME "," G_FILE_ATTRIBUTE_STANDARD_TYPE "," G_FILE_ATTRIBUTE_STANDARD_FAST_CONTENT_TYPE,
    G_FILE_QUERY_INFO_NONE, cancellable, NULL);
  GFileInfo *entry;
  gboolean found = FALSE;

  for (guint i = 0; entries != NULL && !found && i < MAX_ENTRIES; i++)
    {
      if (!g_file_enumerator_iterate (entries, &entry, NULL, cancellable, NULL) || entry == NULL)
        break;
      found = looks_like_card (entry);
    }
  g_task_return_boolean (task, found);
}

static void
looked_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (GMount) mount = data;
  TptCardSources *self = TPT_CARD_SOURCES (source);
  GFile *folder = g_task_get_task_data (G_TASK (result));
  g_autofree char *name = NULL;

  if (!g_task_propagate_boolean (G_TASK (result), NULL) || !g_hash_table_add (self->shown, g_file_get_path (folder)))
    return;
  name = g_mount_get_name (mount);
  g_signal_emit (self, signals[ADDED], 0, g_file_peek_path (folder), name);
}

static void
added_cb (TptCardSources *self, GMount *mount)
{
  g_autoptr (GFile) folder = g_mount_get_root (mount);
  g_autoptr (GTask) task = NULL;

  if (g_file_peek_path (folder) == NULL || g_mount_is_shadowed (mount))
    return;
  task = g_task_new (self, self->cancellable, looked_cb, g_object_ref (mount));
  g_task_set_source_tag (task, added_cb);
  g_task_set_task_data (task, g_object_ref (folder), g_object_unref);
  g_task_run_in_thread (task, look_in_thread);
}

static void
removed_cb (TptCardSources *self, GMount *mount)
{
  g_autoptr (GFile) folder = g_mount_get_root (mount);
  const char *path = g_file_peek_path (folder);

  if (path != NULL && g_hash_table_remove (self->shown, path))
    g_signal_emit (self, signals[REMOVED], 0, path);
}

static void
tpt_card_sources_dispose (GObject *object)
{
  TptCardSources *self = TPT_CARD_SOURCES (object);

  g_cancellable_cancel (self->cancellable);
  g_clear_object (&self->monitor);

  G_OBJECT_CLASS (tpt_card_sources_parent_class)->dispose (object);
}

static void
tpt_card_sources_finalize (GObject *object)
{
  TptCardSources *self = TPT_CARD_SOURCES (object);

  g_object_unref (self->cancellable);
  g_hash_table_unref (self->shown);

  G_OBJECT_CLASS (tpt_card_sources_parent_class)->finalize (object);
}

static void
tpt_card_sources_class_init (TptCardSourcesClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = tpt_card_sources_dispose;
  G_OBJECT_CLASS (klass)->finalize = tpt_card_sources_finalize;

  signals[ADDED] = g_signal_new ("added", TPT_TYPE_CARD_SOURCES, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 2,
                                 G_TYPE_STRING, G_TYPE_STRING);
  signals[REMOVED] = g_signal_new ("removed", TPT_TYPE_CARD_SOURCES, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 1,
                                   G_TYPE_STRING);
}

static void
tpt_card_sources_init (TptCardSources *self)
{
  self->monitor = g_volume_monitor_get ();
  self->cancellable = g_cancellable_new ();
  self->shown = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
}

TptCardSources *
tpt_card_sources_new (void)
{
  return g_object_new (TPT_TYPE_CARD_SOURCES, NULL);
}

void
tpt_card_sources_start (TptCardSources *self)
{
  GList *mounts = g_volume_monitor_get_mounts (self->monitor);

  g_signal_connect_object (self->monitor, "mount-added", G_CALLBACK (added_cb), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (self->monitor, "mount-removed", G_CALLBACK (removed_cb), self, G_CONNECT_SWAPPED);
  for (GList *at = mounts; at != NULL; at = at->next)
    added_cb (self, at->data);
  g_list_free_full (mounts, g_object_unref);
}
