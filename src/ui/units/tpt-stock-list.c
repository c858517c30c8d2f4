#include "config.h"

#include "tpt-stock-list.h"

#include <glib/gi18n-lib.h>

#include "tpt-job-count.h"
#include "tpt-job-edit.h"
#include "tpt-list-focus.h"
#include "tpt-record-dialog.h"
#include "tpt-stock-row.h"
#include "tpt-stock-words.h"

struct _TptStockList {
  GtkWidget parent_instance;

  TptProject *project; /* (owned) (nullable) */
  guint n_rows;

  GtkWidget *add;
  GtkDropDown *goods;
  GtkSearchEntry *search;
  GtkListBox *list;
  GtkStack *stack;
};

G_DEFINE_FINAL_TYPE (TptStockList, tpt_stock_list, GTK_TYPE_WIDGET)

static const char *const *
get_goods (void)
{
  const TptTable *table = tpt_table_get (TPT_TABLE_STOCK);

  return table->columns[tpt_table_find (table, "what")].choices;
}

static GtkWindow *
find_window (TptStockList *self)
{
  return GTK_WINDOW (gtk_widget_get_root (GTK_WIDGET (self)));
}

static void
add_cb (TptStockList *self)
{
  tpt_record_dialog_present (find_window (self), self->project, TPT_TABLE_STOCK, NULL, NULL);
}

static void
complain (TptStockList *self, const GError *error)
{
  gtk_widget_activate_action (GTK_WIDGET (self), "win.complain", "s", error->message);
}

static void
counted_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (TptStockList) self = data;
  g_autoptr (GError) error = NULL;

  if (!tpt_project_run_finish (TPT_PROJECT (source), result, &error) && self->project == TPT_PROJECT (source))
    complain (self, error);
}

static void
count_cb (TptStockList *self, gint64 change, TptStockRow *row)
{
  TptRecord *item = tpt_stock_row_get_item (row);
  g_autofree char *words = tpt_stock_words (item);
  g_autofree char *what = g_strdup_printf (change > 0 ? _("One more: %s") : _("One less: %s"), words);
  g_autoptr (TptJobCount) job = tpt_job_count_new (what, tpt_record_get_code (item), change);

  tpt_project_run_async (self->project, TPT_JOB (job), NULL, counted_cb, g_object_ref (self));
}

static void
edit_cb (TptStockList *self, TptStockRow *row)
{
  tpt_record_dialog_present (find_window (self), self->project, TPT_TABLE_STOCK, tpt_stock_row_get_item (row), NULL);
}

static void
removed_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (TptStockList) self = data;
  g_autoptr (GError) error = NULL;
  gboolean good = tpt_project_run_finish (TPT_PROJECT (source), result, &error);

  if (self->project != TPT_PROJECT (source))
    return;
  if (good)
    gtk_widget_activate_action (GTK_WIDGET (self), "win.toast", "s", _("Removed from the shelf"));
  else
    complain (self, error);
}

static void
remove_cb (TptStockList *self, TptStockRow *row)
{
  g_autofree char *words = tpt_stock_words (tpt_stock_row_get_item (row));
  g_autofree char *what = g_strdup_printf (_("Remove from the shelf: %s"), words);
  g_autoptr (TptJobEdit) job = tpt_job_edit_new (what);

  tpt_job_edit_remove (job, tpt_stock_row_get_item (row));
  tpt_project_run_async (self->project, TPT_JOB (job), NULL, removed_cb, g_object_ref (self));
}

static gboolean
fits_search (TptStockList *self, TptRecord *item)
{
  static const char *const columns[] = { "item", "place", "notes" };
  g_autofree char *needle = g_utf8_casefold (gtk_editable_get_text (GTK_EDITABLE (self->search)), -1);
  g_autofree char *words = tpt_stock_words (item);
  g_autoptr (GString) hay = g_string_new (words);
  g_autofree char *folded = NULL;

  for (gsize i = 0; i < G_N_ELEMENTS (columns); i++)
    if (tpt_record_is_set (item, columns[i]))
      g_string_append_printf (hay, "\n%s", tpt_record_get_text (item, columns[i]));
  folded = g_utf8_casefold (hay->str, -1);
  return strstr (folded, g_strstrip (needle)) != NULL;
}

static gboolean
filter_row_cb (GtkListBoxRow *row, gpointer data)
{
  TptStockList *self = data;
  TptRecord *item = tpt_stock_row_get_item (TPT_STOCK_ROW (row));
  guint goods = gtk_drop_down_get_selected (self->goods);
  gboolean fits = goods == 0 || goods == GTK_INVALID_LIST_POSITION
                  || g_strcmp0 (tpt_record_get_text (item, "what"), get_goods ()[goods - 1]) == 0;

  return fits && fits_search (self, item);
}

static void
filter_cb (TptStockList *self)
{
  gtk_list_box_invalidate_filter (self->list);
}

static void
stop_search_cb (TptStockList *self)
{
  gtk_editable_set_text (GTK_EDITABLE (self->search), "");
}

static void
fill_goods (TptStockList *self)
{
  g_autoptr (GtkStringList) words = gtk_string_list_new (NULL);

  gtk_string_list_append (words, _("All goods"));
  for (guint i = 0; get_goods ()[i] != NULL; i++)
    gtk_string_list_append (words, tpt_choice_label (get_goods ()[i]));
  gtk_drop_down_set_model (self->goods, G_LIST_MODEL (words));
}

static void
tpt_stock_list_dispose (GObject *object)
{
  TptStockList *self = TPT_STOCK_LIST (object);

  gtk_widget_dispose_template (GTK_WIDGET (self), TPT_TYPE_STOCK_LIST);
  g_clear_object (&self->project);

  G_OBJECT_CLASS (tpt_stock_list_parent_class)->dispose (object);
}

static void
tpt_stock_list_class_init (TptStockListClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = tpt_stock_list_dispose;

  gtk_widget_class_set_template_from_resource (widget_class, "/io/github/tapetum/Tapetum/units/tpt-stock-list.ui");
  gtk_widget_class_bind_template_child_full (widget_class, "head", FALSE, 0);
  gtk_widget_class_bind_template_child_full (widget_class, "filters", FALSE, 0);
  gtk_widget_class_bind_template_child_full (widget_class, "caution", FALSE, 0);
  gtk_widget_class_bind_template_child (widget_class, TptStockList, add);
  gtk_widget_class_bind_template_child (widget_class, TptStockList, goods);
  gtk_widget_class_bind_template_child (widget_class, TptStockList, search);
  gtk_widget_class_bind_template_child (widget_class, TptStockList, list);
  gtk_widget_class_bind_template_child (widget_class, TptStockList, stack);
  gtk_widget_class_bind_template_callback (widget_class, add_cb);
  gtk_widget_class_bind_template_callback (widget_class, filter_cb);
  gtk_widget_class_bind_template_callback (widget_class, stop_search_cb);
}

static void
tpt_stock_list_init (TptStockList *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
  fill_goods (self);
  gtk_list_box_set_filter_func (self->list, filter_row_cb, self, NULL);
  tpt_list_focus_install (GTK_WIDGET (self->list));
}

void
tpt_stock_list_set_project (TptStockList *self, TptProject *project)
{
  g_set_object (&self->project, project);
  tpt_stock_list_set_stock (self, NULL);
  gtk_widget_set_sensitive (self->add, project != NULL && !tpt_project_get_read_only (project));
}

static gboolean
shows_the_same (TptStockList *self, GListModel *stock, guint n)
{
  if (n != self->n_rows)
    return FALSE;
  for (guint i = 0; i < n; i++)
    {
      g_autoptr (TptRecord) item = g_list_model_get_item (stock, i);
      TptStockRow *row = TPT_STOCK_ROW (gtk_list_box_get_row_at_index (self->list, (int) i));

      if (tpt_record_get_id (item) != tpt_record_get_id (tpt_stock_row_get_item (row)))
        return FALSE;
    }
  return TRUE;
}

/* A row is filtered as it comes in, so it has to know what it shows. */
static void
append_row (TptStockList *self, TptRecord *item, gboolean writable)
{
  GtkWidget *row = tpt_stock_row_new ();

  tpt_stock_row_show (TPT_STOCK_ROW (row), item, writable);
  g_signal_connect_object (row, "count-asked", G_CALLBACK (count_cb), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (row, "edit-asked", G_CALLBACK (edit_cb), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (row, "remove-asked", G_CALLBACK (remove_cb), self, G_CONNECT_SWAPPED);
  gtk_list_box_append (self->list, row);
  self->n_rows++;
}

static void
empty (TptStockList *self)
{
  GtkListBoxRow *row;

  while ((row = gtk_list_box_get_row_at_index (self->list, 0)) != NULL)
    gtk_list_box_remove (self->list, GTK_WIDGET (row));
  self->n_rows = 0;
}

void
tpt_stock_list_set_stock (TptStockList *self, GListModel *stock)
{
  guint n = stock != NULL ? g_list_model_get_n_items (stock) : 0;
  gboolean writable = self->project != NULL && !tpt_project_get_read_only (self->project);

  if (!shows_the_same (self, stock, n))
    empty (self);
  for (guint i = 0; i < n; i++)
    {
      g_autoptr (TptRecord) item = g_list_model_get_item (stock, i);

      if (i >= self->n_rows)
        append_row (self, item, writable);
      else
        tpt_stock_row_show (TPT_STOCK_ROW (gtk_list_box_get_row_at_index (self->list, (int) i)), item, writable);
    }
  gtk_stack_set_visible_child_name (self->stack, n > 0 ? "list" : "empty");
  gtk_list_box_invalidate_filter (self->list);
}
