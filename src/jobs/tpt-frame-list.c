#include "tpt-frame-list.h"

#include "tpt-job-frames.h"

#define PAGE 128        /* rows read at once */
#define PAGES_KEPT 24   /* whole pages in memory, the longest unused go first */
#define PAGES_ASKED 2   /* jobs under way at a time */

/* A page of rows: its items are held until the page is dropped. */
typedef struct {
  guint number;
  GPtrArray *items; /* (owned) (element-type TptFrameItem) */
} Page;

struct _TptFrameList {
  GObject parent_instance;

  TptProject *project;       /* (owned) (nullable): until stopped */
  GCancellable *cancellable; /* (owned) (nullable) */
  GArray *refs;              /* (owned) (element-type TptFrameRef) */

  GHashTable *live;  /* (owned): position -> (unowned) TptFrameItem: all that anybody holds */
  GHashTable *places; /* (owned): TptFrameItem -> position: the same turned round */
  GQueue kept;       /* (element-type Page): the last used first */
  GQueue wanted;     /* page numbers, the newest first */
  GHashTable *asked; /* (owned): page numbers under way */
};

static void tpt_frame_list_list_model_init (GListModelInterface *iface);

G_DEFINE_FINAL_TYPE_WITH_CODE (TptFrameList, tpt_frame_list, G_TYPE_OBJECT,
                               G_IMPLEMENT_INTERFACE (G_TYPE_LIST_MODEL, tpt_frame_list_list_model_init))

static void
free_page (gpointer data)
{
  Page *page = data;

  g_ptr_array_unref (page->items);
  g_free (page);
}

/* An item that nobody holds any more. */
static void
forget_item_cb (gpointer data, GObject *item)
{
  TptFrameList *self = data;
  gpointer position;

  if (g_hash_table_steal_extended (self->places, item, NULL, &position))
    g_hash_table_remove (self->live, position);
}

static void
forget_all_items (TptFrameList *self)
{
  GHashTableIter iter;
  gpointer item;

  g_hash_table_iter_init (&iter, self->places);
  while (g_hash_table_iter_next (&iter, &item, NULL))
    g_object_weak_unref (item, forget_item_cb, self);
  g_hash_table_remove_all (self->places);
  g_hash_table_remove_all (self->live);
}

/* (transfer full): the one that is held already, else a new one. */
static TptFrameItem *
find_item (TptFrameList *self, guint position)
{
  TptFrameItem *item = g_hash_table_lookup (self->live, GUINT_TO_POINTER (position));

  if (item != NULL)
    return g_object_ref (item);
  item = tpt_frame_item_new ();
  g_hash_table_insert (self->live, GUINT_TO_POINTER (position), item);
  g_hash_table_insert (self->places, item, GUINT_TO_POINTER (position));
  g_object_weak_ref (G_OBJECT (item), forget_item_cb, self);
  return item;
}

static GList *
find_kept (TptFrameList *self, guint number)
{
  for (GList *link = self->kept.head; link != NULL; link = link->next)
    if (((Page *) link->data)->number == number)
      return link;
  return NULL;
}

static void
use_page (TptFrameList *self, GList *link)
{
  g_queue_unlink (&self->kept, link);
  g_queue_push_head_link (&self->kept, link);
}

static void
drop_old_pages (TptFrameList *self)
{
  while (self->kept.length > PAGES_KEPT)
    free_page (g_queue_pop_tail (&self->kept));
}

static guint
page_length (TptFrameList *self, guint number)
{
  return MIN (PAGE, self->refs->len - number * PAGE);
}

/* Whether somebody waits for a row of this page, or the page is to be read anew. */
static gboolean
is_held (TptFrameList *self, guint number)
{
  for (guint i = 0; i < page_length (self, number); i++)
    if (g_hash_table_contains (self->live, GUINT_TO_POINTER (number * PAGE + i)))
      return TRUE;
  return FALSE;
}

/* What a job was asked for; the list may have other keys by the time it ends. */
typedef struct {
  TptFrameList *list; /* (owned) */
  GArray *refs;       /* (owned): compared, never read again */
  guint number;
} Asked;

static void
free_asked (Asked *asked)
{
  g_object_unref (asked->list);
  g_array_unref (asked->refs);
  g_free (asked);
}

static void ask_next (TptFrameList *self);

/* Rows come in the order of the keys; one that is gone is left out. */
static void
take_rows (TptFrameList *self, guint number, GPtrArray *rows)
{
  Page *page = g_new0 (Page, 1);
  GList *old = find_kept (self, number);
  guint length = page_length (self, number);

  page->number = number;
  page->items = g_ptr_array_new_with_free_func (g_object_unref);
  for (guint i = 0; i < length; i++)
    g_ptr_array_add (page->items, find_item (self, number * PAGE + i));
  if (old != NULL)
    {
      free_page (old->data);
      g_queue_delete_link (&self->kept, old);
    }
  g_queue_push_head (&self->kept, page);
  drop_old_pages (self);

  g_ptr_array_set_free_func (rows, NULL);
  for (guint i = 0, n = 0; n < rows->len; n++)
    {
      TptFrameRow *row = rows->pdata[n];

      while (i < length && g_array_index (self->refs, TptFrameRef, number * PAGE + i).frame_id != row->ref.frame_id)
        i++;
      if (i < length)
        tpt_frame_item_take_row (page->items->pdata[i++], row);
      else
        tpt_frame_row_free (row);
    }
  g_ptr_array_set_size (rows, 0);
}

static void
read_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  Asked *asked = data;
  TptFrameList *self = asked->list;
  TptJobFrameRows *job = TPT_JOB_FRAME_ROWS (tpt_project_get_job (result));
  g_autoptr (GError) error = NULL;
  gboolean good = tpt_project_run_finish (TPT_PROJECT (source), result, &error);

  if (self->refs == asked->refs)
    {
      g_hash_table_remove (self->asked, GUINT_TO_POINTER (asked->number));
      if (good)
        take_rows (self, asked->number, tpt_job_frame_rows_get_rows (job));
      else if (!g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED))
        g_message ("%s", error->message);
    }
  ask_next (self);
  free_asked (asked);
}

static void
ask_page (TptFrameList *self, guint number)
{
  const TptFrameRef *refs = &g_array_index (self->refs, TptFrameRef, number * PAGE);
  g_autoptr (TptJobFrameRows) job = tpt_job_frame_rows_new (refs, page_length (self, number));
  Asked *asked = g_new0 (Asked, 1);

  asked->list = g_object_ref (self);
  asked->refs = g_array_ref (self->refs);
  asked->number = number;
  g_hash_table_add (self->asked, GUINT_TO_POINTER (number));
  tpt_project_run_async (self->project, TPT_JOB (job), self->cancellable, read_cb, asked);
}

/* A page that everybody has let go of meanwhile is passed over. */
static void
ask_next (TptFrameList *self)
{
  while (self->project != NULL && self->wanted.length > 0 && g_hash_table_size (self->asked) < PAGES_ASKED)
    {
      guint number = GPOINTER_TO_UINT (g_queue_pop_head (&self->wanted));

      if (is_held (self, number))
        ask_page (self, number);
    }
}

static void
want_page (TptFrameList *self, guint number)
{
  gpointer key = GUINT_TO_POINTER (number);

  if (g_hash_table_contains (self->asked, key))
    return;
  g_queue_remove (&self->wanted, key);
  g_queue_push_head (&self->wanted, key);
  ask_next (self);
}

static gpointer
tpt_frame_list_get_item (GListModel *model, guint position)
{
  TptFrameList *self = TPT_FRAME_LIST (model);
  guint number = position / PAGE;
  TptFrameItem *item;
  GList *page;

  if (position >= self->refs->len)
    return NULL;
  item = find_item (self, position);
  page = find_kept (self, number);
  if (page != NULL)
    use_page (self, page);
  else if (tpt_frame_item_get_row (item) == NULL)
    want_page (self, number);
  return item;
}

static GType
tpt_frame_list_get_item_type (GListModel *model)
{
  return TPT_TYPE_FRAME_ITEM;
}

static guint
tpt_frame_list_get_n_items (GListModel *model)
{
  return TPT_FRAME_LIST (model)->refs->len;
}

static void
tpt_frame_list_list_model_init (GListModelInterface *iface)
{
  iface->get_item = tpt_frame_list_get_item;
  iface->get_item_type = tpt_frame_list_get_item_type;
  iface->get_n_items = tpt_frame_list_get_n_items;
}

static void
tpt_frame_list_dispose (GObject *object)
{
  TptFrameList *self = TPT_FRAME_LIST (object);

  tpt_frame_list_stop (self);
  g_queue_clear_full (&self->kept, free_page);
  forget_all_items (self);

  G_OBJECT_CLASS (tpt_frame_list_parent_class)->dispose (object);
}

static void
tpt_frame_list_finalize (GObject *object)
{
  TptFrameList *self = TPT_FRAME_LIST (object);

  g_array_unref (self->refs);
  g_hash_table_unref (self->live);
  g_hash_table_unref (self->places);
  g_hash_table_unref (self->asked);

  G_OBJECT_CLASS (tpt_frame_list_parent_class)->finalize (object);
}

static void
tpt_frame_list_class_init (TptFrameListClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = tpt_frame_list_dispose;
  G_OBJECT_CLASS (klass)->finalize = tpt_frame_list_finalize;
}

static void
tpt_frame_list_init (TptFrameList *self)
{
  self->cancellable = g_cancellable_new ();
  self->refs = g_array_new (FALSE, FALSE, sizeof (TptFrameRef));
  self->live = g_hash_table_new (NULL, NULL);
  self->places = g_hash_table_new (NULL, NULL);
  self->asked = g_hash_table_new (NULL, NULL);
}

TptFrameList *
tpt_frame_list_new (TptProject *project)
{
  TptFrameList *self = g_object_new (TPT_TYPE_FRAME_LIST, NULL);

  self->project = g_object_ref (project);
  return self;
}

/* Items of the keys before that somebody still holds are no longer of this list. */
void
tpt_frame_list_take_refs (TptFrameList *self, GArray *refs)
{
  guint before = self->refs->len;

  g_queue_clear (&self->wanted);
  g_hash_table_remove_all (self->asked);
  forget_all_items (self);
  g_queue_clear_full (&self->kept, free_page);
  g_array_unref (self->refs);
  self->refs = refs;
  g_list_model_items_changed (G_LIST_MODEL (self), 0, before, refs->len);
}

TptFrameRef
tpt_frame_list_get_ref (TptFrameList *self, guint position)
{
  return position < self->refs->len ? g_array_index (self->refs, TptFrameRef, position) : (TptFrameRef){ 0, 0 };
}

guint
tpt_frame_list_find_trigger (TptFrameList *self, gint64 trigger_id)
{
  for (guint i = 0; i < self->refs->len; i++)
    if (g_array_index (self->refs, TptFrameRef, i).trigger_id == trigger_id)
      return i;
  return G_MAXUINT;
}

/* Whether anybody beside the page itself holds one of its items. */
static gboolean
is_shown (Page *page)
{
  for (guint i = 0; i < page->items->len; i++)
    if (G_OBJECT (page->items->pdata[i])->ref_count > 1)
      return TRUE;
  return FALSE;
}

static void
drop_hidden_pages (TptFrameList *self)
{
  GList *next;

  for (GList *link = self->kept.head; link != NULL; link = next)
    {
      next = link->next;
      if (is_shown (link->data))
        continue;
      free_page (link->data);
      g_queue_delete_link (&self->kept, link);
    }
}

/* Pages that nobody looks at are let go of: they are read when they are wanted. */
void
tpt_frame_list_refresh (TptFrameList *self)
{
  g_autoptr (GHashTable) pages = g_hash_table_new (NULL, NULL);
  GHashTableIter iter;
  gpointer key;

  drop_hidden_pages (self);
  g_hash_table_iter_init (&iter, self->live);
  while (g_hash_table_iter_next (&iter, &key, NULL))
    g_hash_table_add (pages, GUINT_TO_POINTER (GPOINTER_TO_UINT (key) / PAGE));
  g_hash_table_remove_all (self->asked);
  g_hash_table_iter_init (&iter, pages);
  while (g_hash_table_iter_next (&iter, &key, NULL))
    want_page (self, GPOINTER_TO_UINT (key));
}

void
tpt_frame_list_stop (TptFrameList *self)
{
  if (self->cancellable != NULL)
    g_cancellable_cancel (self->cancellable);
  g_clear_object (&self->cancellable);
  g_queue_clear (&self->wanted);
  g_clear_object (&self->project);
}
