#include "tpt-table-view.h"

#include <string.h>

#include "tpt-list-focus.h"

/* Letters of the point and what follows it that are shown as they are. */
#define LONGEST_FRACTION 5

/* A row of the table, and a list of them that makes each when asked for. */
#define TPT_TYPE_TABLE_LINE (tpt_table_line_get_type ())
G_DECLARE_FINAL_TYPE (TptTableLine, tpt_table_line, TPT, TABLE_LINE, GObject)

struct _TptTableLine {
  GObject parent_instance;

  guint row;
};

G_DEFINE_FINAL_TYPE (TptTableLine, tpt_table_line, G_TYPE_OBJECT)

#define TPT_TYPE_TABLE_LINES (tpt_table_lines_get_type ())
G_DECLARE_FINAL_TYPE (TptTableLines, tpt_table_lines, TPT, TABLE_LINES, GObject)

struct _TptTableLines {
  GObject parent_instance;

  TptFigureTable *table; /* (owned) */
};

static void tpt_table_lines_list_model_init (GListModelInterface *iface);

G_DEFINE_FINAL_TYPE_WITH_CODE (TptTableLines, tpt_table_lines, G_TYPE_OBJECT,
                               G_IMPLEMENT_INTERFACE (G_TYPE_LIST_MODEL, tpt_table_lines_list_model_init))

struct _TptTableView {
  GtkWidget parent_instance;

  GtkColumnView *view;

  TptTableLines *lines;       /* (owned) (nullable) */
  GtkSelectionModel *choices; /* (owned) (nullable) */
};

G_DEFINE_FINAL_TYPE (TptTableView, tpt_table_view, GTK_TYPE_WIDGET)

static void
tpt_table_line_class_init (TptTableLineClass *klass)
{
}

static void
tpt_table_line_init (TptTableLine *self)
{
}

static GType
tpt_table_lines_get_item_type (GListModel *model)
{
  return TPT_TYPE_TABLE_LINE;
}

static guint
tpt_table_lines_get_n_items (GListModel *model)
{
  return tpt_figure_table_get_n_rows (TPT_TABLE_LINES (model)->table);
}

static gpointer
tpt_table_lines_get_item (GListModel *model, guint position)
{
  TptTableLine *line;

  if (position >= tpt_table_lines_get_n_items (model))
    return NULL;
  line = g_object_new (TPT_TYPE_TABLE_LINE, NULL);
  line->row = position;
  return line;
}

static void
tpt_table_lines_list_model_init (GListModelInterface *iface)
{
  iface->get_item_type = tpt_table_lines_get_item_type;
  iface->get_n_items = tpt_table_lines_get_n_items;
  iface->get_item = tpt_table_lines_get_item;
}

static void
tpt_table_lines_finalize (GObject *object)
{
  tpt_figure_table_free (TPT_TABLE_LINES (object)->table);
  G_OBJECT_CLASS (tpt_table_lines_parent_class)->finalize (object);
}

static void
tpt_table_lines_class_init (TptTableLinesClass *klass)
{
  G_OBJECT_CLASS (klass)->finalize = tpt_table_lines_finalize;
}

static void
tpt_table_lines_init (TptTableLines *self)
{
}

/* Where a station stands is not copied by the way: exact places are a choice of their own. */
static gboolean
is_told (const TptFigureTable *table, guint column)
{
  const char *name = tpt_figure_table_get_column (table, column);

  return !g_str_equal (name, "latitude") && !g_str_equal (name, "longitude");
}

/* (transfer full): as words; the copy keeps the names of the CSV. */
static char *
name_column (const TptFigureTable *table, guint column)
{
  return g_strdelimit (g_strdup (tpt_figure_table_get_column (table, column)), "_", ' ');
}

/* (transfer full): long fractions are cut to what can be read; the copy keeps them whole. */
static char *
show_cell (const TptFigureTable *table, guint row, guint column)
{
  const char *cell = tpt_figure_table_get_cell (table, row, column);
  const char *point = strchr (cell, '.');
  char number[G_ASCII_DTOSTR_BUF_SIZE], *end = NULL;
  double value = point != NULL ? g_ascii_strtod (cell, &end) : 0;

  if (point == NULL || *end != '\0' || strlen (point) <= LONGEST_FRACTION)
    return g_strdup (cell);
  return g_strdup (g_ascii_formatd (number, sizeof number, "%.5g", value));
}

static void
setup_cb (GtkSignalListItemFactory *factory, GtkListItem *item, gpointer data)
{
  GtkWidget *label = gtk_label_new (NULL);

  gtk_label_set_xalign (GTK_LABEL (label), 0);
  gtk_widget_add_css_class (label, "figures");
  gtk_list_item_set_child (item, label);
}

/* A reader of the screen is told the whole row with the names of its columns, in one go. */
static void
describe_row (TptTableView *self, GtkWidget *row, guint position)
{
  const TptFigureTable *table = self->lines->table;
  g_autoptr (GString) words = g_string_new (NULL);

  for (guint i = 0; i < tpt_figure_table_get_n_columns (table); i++)
    {
      g_autofree char *name = name_column (table, i), *cell = show_cell (table, position, i);

      if (is_told (table, i))
        g_string_append_printf (words, "%s%s: %s", words->len > 0 ? "; " : "", name, cell);
    }
  gtk_accessible_update_property (GTK_ACCESSIBLE (row), GTK_ACCESSIBLE_PROPERTY_LABEL, words->str, -1);
}

/* The number of the column is the factory's. */
static void
bind_cb (GtkSignalListItemFactory *factory, GtkListItem *item, gpointer data)
{
  TptTableView *self = data;
  TptTableLine *line = gtk_list_item_get_item (item);
  GtkWidget *label = gtk_list_item_get_child (item);
  GtkWidget *cell = gtk_widget_get_parent (label), *row = cell != NULL ? gtk_widget_get_parent (cell) : NULL;
  guint column = GPOINTER_TO_UINT (g_object_get_data (G_OBJECT (factory), "column"));
  g_autofree char *shown = show_cell (self->lines->table, line->row, column);

  gtk_label_set_label (GTK_LABEL (label), shown);
  if (column == 0 && row != NULL)
    describe_row (self, row, line->row);
}

static void
add_column (TptTableView *self, guint column)
{
  GtkListItemFactory *factory = gtk_signal_list_item_factory_new ();
  g_autoptr (GtkColumnViewColumn) view_column = NULL;
  g_autofree char *name = name_column (self->lines->table, column);

  g_object_set_data (G_OBJECT (factory), "column", GUINT_TO_POINTER (column));
  g_signal_connect (factory, "setup", G_CALLBACK (setup_cb), self);
  g_signal_connect (factory, "bind", G_CALLBACK (bind_cb), self);
  view_column = gtk_column_view_column_new (name, factory);
  gtk_column_view_column_set_resizable (view_column, TRUE);
  gtk_column_view_append_column (self->view, view_column);
}

static void
remove_columns (TptTableView *self)
{
  GListModel *columns = gtk_column_view_get_columns (self->view);

  while (g_list_model_get_n_items (columns) > 0)
    {
      g_autoptr (GtkColumnViewColumn) column = g_list_model_get_item (columns, 0);

      gtk_column_view_remove_column (self->view, column);
    }
}

static gboolean
copy_key (GtkWidget *widget, GVariant *arguments, gpointer data)
{
  g_autofree char *text = tpt_table_view_copy (TPT_TABLE_VIEW (widget));

  gdk_clipboard_set_text (gtk_widget_get_clipboard (widget), text);
  return TRUE;
}

static void
tpt_table_view_dispose (GObject *object)
{
  TptTableView *self = TPT_TABLE_VIEW (object);

  gtk_widget_dispose_template (GTK_WIDGET (self), TPT_TYPE_TABLE_VIEW);
  g_clear_object (&self->choices);
  g_clear_object (&self->lines);

  G_OBJECT_CLASS (tpt_table_view_parent_class)->dispose (object);
}

static void
tpt_table_view_class_init (TptTableViewClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = tpt_table_view_dispose;
  gtk_widget_class_set_template_from_resource (widget_class, "/io/github/tapetum/Tapetum/findings/tpt-table-view.ui");
  gtk_widget_class_bind_template_child_full (widget_class, "scrolled", FALSE, 0);
  gtk_widget_class_bind_template_child (widget_class, TptTableView, view);
  gtk_widget_class_add_binding (widget_class, GDK_KEY_c, GDK_CONTROL_MASK, copy_key, NULL);
}

static void
tpt_table_view_init (TptTableView *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
  tpt_list_focus_install (gtk_widget_get_last_child (GTK_WIDGET (self->view)));
}

GtkWidget *
tpt_table_view_new (void)
{
  return g_object_new (TPT_TYPE_TABLE_VIEW, NULL);
}

void
tpt_table_view_take_table (TptTableView *self, TptFigureTable *table)
{
  gtk_column_view_set_model (self->view, NULL);
  remove_columns (self);
  g_clear_object (&self->choices);
  g_clear_object (&self->lines);
  if (table == NULL)
    return;

  self->lines = g_object_new (TPT_TYPE_TABLE_LINES, NULL);
  self->lines->table = table;
  self->choices = GTK_SELECTION_MODEL (gtk_multi_selection_new (G_LIST_MODEL (g_object_ref (self->lines))));
  for (guint i = 0; i < tpt_figure_table_get_n_columns (table); i++)
    if (is_told (table, i))
      add_column (self, i);
  gtk_column_view_set_model (self->view, self->choices);
}

/* The names of the columns for a @row of -1. */
static void
append_row (GString *text, const TptFigureTable *table, int row)
{
  gboolean first = TRUE;

  for (guint i = 0; i < tpt_figure_table_get_n_columns (table); i++)
    {
      if (!is_told (table, i))
        continue;
      g_string_append_printf (text, "%s%s", first ? "" : "\t",
                              row < 0 ? tpt_figure_table_get_column (table, i) : tpt_figure_table_get_cell (table, row, i));
      first = FALSE;
    }
  g_string_append_c (text, '\n');
}

char *
tpt_table_view_copy (TptTableView *self)
{
  g_autoptr (GtkBitset) chosen = NULL;
  GString *text = g_string_new (NULL);
  const TptFigureTable *table;

  if (self->lines == NULL)
    return g_string_free (text, FALSE);

  table = self->lines->table;
  chosen = gtk_selection_model_get_selection (self->choices);
  append_row (text, table, -1);
  for (guint i = 0; i < tpt_figure_table_get_n_rows (table); i++)
    if (gtk_bitset_is_empty (chosen) || gtk_bitset_contains (chosen, i))
      append_row (text, table, (int) i);
  return g_string_free (text, FALSE);
}
