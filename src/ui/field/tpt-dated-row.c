#include "tpt-dated-row.h"

#include "tpt-format.h"

struct _TptDatedRow {
  GtkListBoxRow parent_instance;

  GtkLabel *day;
  GtkLabel *text;
};

G_DEFINE_FINAL_TYPE (TptDatedRow, tpt_dated_row, GTK_TYPE_LIST_BOX_ROW)

static void
tpt_dated_row_dispose (GObject *object)
{
  gtk_widget_dispose_template (GTK_WIDGET (object), TPT_TYPE_DATED_ROW);

  G_OBJECT_CLASS (tpt_dated_row_parent_class)->dispose (object);
}

static void
tpt_dated_row_class_init (TptDatedRowClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = tpt_dated_row_dispose;

  gtk_widget_class_set_template_from_resource (widget_class, "/io/github/tapetum/Tapetum/field/tpt-dated-row.ui");
  gtk_widget_class_bind_template_child (widget_class, TptDatedRow, day);
  gtk_widget_class_bind_template_child (widget_class, TptDatedRow, text);
}

static void
tpt_dated_row_init (TptDatedRow *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
}

GtkWidget *
tpt_dated_row_new (TptInstant at, TptZone *zone, TptInstant now, const char *text)
{
  TptDatedRow *self = g_object_new (TPT_TYPE_DATED_ROW, NULL);
  g_autofree char *day = at != TPT_NO_INSTANT ? tpt_format_day_short (at, zone, now) : g_strdup ("");
  g_autofree char *whole = g_strdup_printf ("%s: %s", day, text);

  gtk_label_set_label (self->day, day);
  gtk_label_set_label (self->text, text);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL, whole, -1);
  return GTK_WIDGET (self);
}
