#include "config.h"

#include "tpt-reading-row.h"

#include <glib/gi18n-lib.h>

#include "tpt-field.h"

struct _TptReadingRow {
  GtkWidget parent_instance;

  TptRigItem *item;  /* (owned) */
  GListModel *spare; /* (owned) (nullable) */
  TptField *percent, *volts, *state, *action;
  GtkDropDown *replacement; /* (nullable): only for a card */
  gboolean labelled;
  gboolean guessing; /* the program is setting the state */
  gboolean told;     /* somebody has chosen the state or what was done */
};

G_DEFINE_FINAL_TYPE (TptReadingRow, tpt_reading_row, GTK_TYPE_WIDGET)

enum {
  SIGNAL_CHANGED,
  N_SIGNALS,
};

static guint signals[N_SIGNALS];

static gboolean
is_kind (TptReadingRow *self, const char *kind)
{
  return g_strcmp0 (tpt_record_get_text (tpt_rig_item_get_unit (self->item), "kind"), kind) == 0;
}

static gboolean
is_card (TptReadingRow *self)
{
  return is_kind (self, "card");
}

static gboolean
was_swapped (TptReadingRow *self)
{
  g_autofree char *action = tpt_field_get_text (self->action);

  return g_str_equal (action, "swapped");
}

static void
changed_cb (TptReadingRow *self)
{
  if (self->replacement != NULL)
    gtk_widget_set_sensitive (GTK_WIDGET (self->replacement), was_swapped (self));
  g_signal_emit (self, signals[SIGNAL_CHANGED], 0);
}

static void
told_cb (TptReadingRow *self)
{
  self->told |= !self->guessing;
}

static TptField *
add_field (TptReadingRow *self, GtkWidget *grid, const char *column, int place)
{
  const TptTable *table = tpt_table_get (TPT_TABLE_READINGS);
  TptField *field = tpt_field_new (&table->columns[tpt_table_find (table, column)], NULL);

  gtk_grid_attach (GTK_GRID (grid), GTK_WIDGET (field), place, 0, 1, 1);
  gtk_widget_set_valign (GTK_WIDGET (field), GTK_ALIGN_END);
  if (!self->labelled)
    tpt_field_hide_label (field);
  g_signal_connect_swapped (field, "changed", G_CALLBACK (changed_cb), self);
  return field;
}

static char *
name_unit (TptRecord *unit)
{
  const char *label = tpt_record_get_text (unit, "label"), *code = tpt_record_get_code (unit);

  return label != NULL ? g_strdup_printf ("%s · %s", label, code)
                       : g_strdup_printf ("%s · %s", tpt_choice_label (tpt_record_get_text (unit, "kind")), code);
}

/* The card itself goes back in emptied, or one from the shelf does. */
static void
add_replacement (TptReadingRow *self, GtkWidget *grid)
{
  g_autoptr (GtkStringList) codes = gtk_string_list_new (NULL);

  gtk_string_list_append (codes, _("Same card, emptied"));
  for (guint i = 0; self->spare != NULL && i < g_list_model_get_n_items (self->spare); i++)
    {
      g_autoptr (TptRecord) card = g_list_model_get_item (self->spare, i);
      g_autofree char *label = g_strdup_printf (_("Put in %s"), tpt_record_get_code (card));
      gtk_string_list_append (codes, label);
    }
  self->replacement = GTK_DROP_DOWN (gtk_drop_down_new (G_LIST_MODEL (g_steal_pointer (&codes)), NULL));
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->replacement), GTK_ACCESSIBLE_PROPERTY_LABEL, _("Card put in"), -1);
  gtk_widget_set_valign (GTK_WIDGET (self->replacement), GTK_ALIGN_END);
  gtk_grid_attach (GTK_GRID (grid), GTK_WIDGET (self->replacement), 1, 0, 3, 1);
  gtk_widget_set_sensitive (GTK_WIDGET (self->replacement), FALSE);
}

static void
fill (TptReadingRow *self)
{
  GtkWidget *title, *grid = gtk_grid_new ();
  g_autofree char *name = name_unit (tpt_rig_item_get_unit (self->item));

  gtk_grid_set_column_spacing (GTK_GRID (grid), 8);
  gtk_grid_set_column_homogeneous (GTK_GRID (grid), TRUE);
  gtk_widget_set_hexpand (grid, TRUE);
  gtk_widget_set_parent (grid, GTK_WIDGET (self));
  gtk_accessible_update_property (GTK_ACCESSIBLE (grid), GTK_ACCESSIBLE_PROPERTY_LABEL, name, -1);
  title = gtk_label_new (name);
  gtk_label_set_xalign (GTK_LABEL (title), 0);
  gtk_label_set_ellipsize (GTK_LABEL (title), PANGO_ELLIPSIZE_END);
  gtk_widget_set_valign (title, GTK_ALIGN_END);
  gtk_widget_set_margin_bottom (title, 8);
  gtk_grid_attach (GTK_GRID (grid), title, 0, 0, 1, 1);
  self->state = add_field (self, grid, "state", is_card (self) ? 5 : 1);
  self->action = add_field (self, grid, "action", 4);
  g_signal_connect_swapped (self->state, "changed", G_CALLBACK (told_cb), self);
  g_signal_connect_swapped (self->action, "changed", G_CALLBACK (told_cb), self);
  tpt_reading_row_expect (self, "working");
  if (is_card (self))
    {
      gtk_widget_set_visible (GTK_WIDGET (self->state), FALSE);
      add_replacement (self, grid);
      return;
    }
  if (is_kind (self, "housing"))
    {
      gtk_grid_attach (GTK_GRID (grid), gtk_label_new (NULL), 2, 0, 2, 1); /* nothing to read, but its place */
      return;
    }
  self->percent = add_field (self, grid, "percent", 2);
  self->volts = add_field (self, grid, "volts", 3);
}

static void
tpt_reading_row_dispose (GObject *object)
{
  TptReadingRow *self = TPT_READING_ROW (object);
  GtkWidget *child;

  while ((child = gtk_widget_get_first_child (GTK_WIDGET (object))) != NULL)
    gtk_widget_unparent (child);
  g_clear_object (&self->item);
  g_clear_object (&self->spare);

  G_OBJECT_CLASS (tpt_reading_row_parent_class)->dispose (object);
}

static void
tpt_reading_row_class_init (TptReadingRowClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = tpt_reading_row_dispose;
  gtk_widget_class_set_layout_manager_type (GTK_WIDGET_CLASS (klass), GTK_TYPE_BOX_LAYOUT);

  signals[SIGNAL_CHANGED] =
    g_signal_new ("changed", G_TYPE_FROM_CLASS (klass), G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
}

static void
tpt_reading_row_init (TptReadingRow *self)
{
  GtkLayoutManager *layout = gtk_widget_get_layout_manager (GTK_WIDGET (self));

  gtk_orientable_set_orientation (GTK_ORIENTABLE (layout), GTK_ORIENTATION_VERTICAL);
  gtk_box_layout_set_spacing (GTK_BOX_LAYOUT (layout), 4);
}

TptReadingRow *
tpt_reading_row_new (TptRigItem *item, GListModel *spare, gboolean labelled)
{
  TptReadingRow *self = g_object_new (TPT_TYPE_READING_ROW, NULL);

  self->item = g_object_ref (item);
  g_set_object (&self->spare, spare);
  self->labelled = labelled;
  fill (self);
  return self;
}

/* Found dead, it is most likely the camera; of the others nothing is known.
 * Gone, there is nothing to look at. */
static const char *
guess_state (TptReadingRow *self, const char *found)
{
  if (is_card (self) || found == NULL || g_str_equal (found, "gone"))
    return "";
  if (g_str_equal (found, "dead"))
    return is_kind (self, "camera") ? "dead" : "";
  return "working";
}

void
tpt_reading_row_expect (TptReadingRow *self, const char *found)
{
  if (self->told)
    return;
  self->guessing = TRUE;
  tpt_field_set_text (self->state, guess_state (self, found));
  tpt_field_set_text (self->action, g_strcmp0 (found, "gone") == 0 ? "" : "none");
  self->guessing = FALSE;
}

gboolean
tpt_reading_row_is_valid (TptReadingRow *self)
{
  return (self->percent == NULL || tpt_field_get_error (self->percent) == NULL) &&
         (self->volts == NULL || tpt_field_get_error (self->volts) == NULL);
}

TptRecord *
tpt_reading_row_make_reading (TptReadingRow *self)
{
  g_autoptr (TptRecord) reading = tpt_record_new (TPT_TABLE_READINGS);

  tpt_record_set_text (reading, "unit", tpt_record_get_code (tpt_rig_item_get_unit (self->item)));
  tpt_field_apply (self->state, reading);
  tpt_field_apply (self->action, reading);
  if (self->percent != NULL)
    tpt_field_apply (self->percent, reading);
  if (self->volts != NULL)
    tpt_field_apply (self->volts, reading);
  if (!tpt_record_is_set (reading, "state") && !tpt_record_is_set (reading, "action") && !tpt_record_is_set (reading, "percent") &&
      !tpt_record_is_set (reading, "volts"))
    return NULL;
  return g_steal_pointer (&reading);
}

TptRecord *
tpt_reading_row_get_replacement (TptReadingRow *self)
{
  guint selected;
  TptRecord *card;

  if (self->replacement == NULL || self->spare == NULL || !was_swapped (self))
    return NULL;
  selected = gtk_drop_down_get_selected (self->replacement);
  if (selected == 0 || selected == GTK_INVALID_LIST_POSITION)
    return NULL;
  card = g_list_model_get_item (self->spare, selected - 1);
  g_object_unref (card); /* the list keeps it */
  return card;
}

TptRigItem *
tpt_reading_row_get_item (TptReadingRow *self)
{
  return self->item;
}
