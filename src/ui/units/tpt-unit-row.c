#include "tpt-unit-row.h"

struct _TptUnitRow {
  GtkWidget parent_instance;

  GtkLabel *title;
  GtkLabel *code;
  GtkLabel *place;
  GtkWidget *below;
  GtkWidget *harm;
  GtkLabel *state;
};

G_DEFINE_FINAL_TYPE (TptUnitRow, tpt_unit_row, GTK_TYPE_WIDGET)

static void
tpt_unit_row_dispose (GObject *object)
{
  gtk_widget_dispose_template (GTK_WIDGET (object), TPT_TYPE_UNIT_ROW);

  G_OBJECT_CLASS (tpt_unit_row_parent_class)->dispose (object);
}

static void
tpt_unit_row_class_init (TptUnitRowClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = tpt_unit_row_dispose;

  gtk_widget_class_set_template_from_resource (widget_class, "/io/github/tapetum/Tapetum/units/tpt-unit-row.ui");
  gtk_widget_class_bind_template_child_full (widget_class, "above", FALSE, 0);
  gtk_widget_class_bind_template_child (widget_class, TptUnitRow, title);
  gtk_widget_class_bind_template_child (widget_class, TptUnitRow, code);
  gtk_widget_class_bind_template_child (widget_class, TptUnitRow, place);
  gtk_widget_class_bind_template_child (widget_class, TptUnitRow, below);
  gtk_widget_class_bind_template_child (widget_class, TptUnitRow, harm);
  gtk_widget_class_bind_template_child (widget_class, TptUnitRow, state);
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_GROUP);
}

static void
tpt_unit_row_init (TptUnitRow *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
}

GtkWidget *
tpt_unit_row_new (void)
{
  return g_object_new (TPT_TYPE_UNIT_ROW, NULL);
}

/* The kind stands where no label says more. */
static void
show_names (TptUnitRow *self, TptUnitItem *item)
{
  const char *kind = tpt_choice_label (tpt_record_get_text (tpt_unit_item_get_record (item), "kind"));
  const char *label = tpt_record_get_text (tpt_unit_item_get_record (item), "label");
  g_autofree char *behind =
    label != NULL ? g_strdup_printf ("%s · %s", kind, tpt_unit_item_get_code (item)) : g_strdup (tpt_unit_item_get_code (item));

  gtk_label_set_label (self->title, label != NULL ? label : kind);
  gtk_label_set_label (self->code, behind);
}

void
tpt_unit_row_show (TptUnitRow *self, TptUnitItem *item, TptZone *zone, TptInstant now)
{
  g_autofree char *place = tpt_unit_item_word_place (item, zone, now);
  g_autofree char *state = tpt_unit_item_word_state (item, zone, now);
  g_autofree char *whole = NULL;

  show_names (self, item);
  gtk_label_set_label (self->place, place);
  gtk_label_set_label (self->state, state != NULL ? state : "");
  gtk_widget_set_visible (self->below, state != NULL);
  gtk_widget_set_visible (self->harm, tpt_unit_item_is_harmed (item));
  whole = g_strjoin (", ", gtk_label_get_label (self->title), gtk_label_get_label (self->code), place, state, NULL);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL, whole, -1);
}
