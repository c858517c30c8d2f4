#include "tpt-rig-row.h"

#include <math.h>

#include "tpt-field-words.h"
#include "tpt-gauge.h"

struct _TptRigRow {
  GtkListBoxRow parent_instance;

  char *unit; /* (owned) (nullable): code */

  TptGauge *gauge;
  GtkLabel *title;
  GtkLabel *description;
};

G_DEFINE_FINAL_TYPE (TptRigRow, tpt_rig_row, GTK_TYPE_LIST_BOX_ROW)

static void
tpt_rig_row_dispose (GObject *object)
{
  TptRigRow *self = TPT_RIG_ROW (object);

  g_clear_pointer (&self->unit, g_free);
  gtk_widget_dispose_template (GTK_WIDGET (self), TPT_TYPE_RIG_ROW);

  G_OBJECT_CLASS (tpt_rig_row_parent_class)->dispose (object);
}

static void
tpt_rig_row_class_init (TptRigRowClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = tpt_rig_row_dispose;

  g_type_ensure (TPT_TYPE_GAUGE);
  gtk_widget_class_set_template_from_resource (widget_class, "/io/github/tapetum/Tapetum/field/tpt-rig-row.ui");
  gtk_widget_class_bind_template_child (widget_class, TptRigRow, gauge);
  gtk_widget_class_bind_template_child (widget_class, TptRigRow, title);
  gtk_widget_class_bind_template_child (widget_class, TptRigRow, description);
}

static void
tpt_rig_row_init (TptRigRow *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
}

static void
show_left (TptRigRow *self, const TptForecast *forecast)
{
  const TptUnitForecast *energy = tpt_field_words_find (forecast, self->unit);

  if (energy != NULL)
    tpt_gauge_set (self->gauge, energy->left, energy->interval.state);
  else if (g_strcmp0 (forecast->card.unit, self->unit) == 0)
    tpt_gauge_set (self->gauge, forecast->card.left, forecast->card.interval.state);
  else
    tpt_gauge_set (self->gauge, NAN, TPT_STATE_UNKNOWN);
}

GtkWidget *
tpt_rig_row_new (TptRigItem *item, const TptForecast *forecast, TptZone *zone, TptInstant on)
{
  TptRigRow *self = g_object_new (TPT_TYPE_RIG_ROW, NULL);
  TptRecord *unit = tpt_rig_item_get_unit (item);
  g_autofree char *words = tpt_field_words_rig (item, forecast, zone, on);
  g_autofree char *whole = g_strdup_printf ("%s: %s", tpt_field_words_unit (unit), words);

  self->unit = g_strdup (tpt_record_get_code (unit));
  gtk_label_set_label (self->title, tpt_field_words_unit (unit));
  gtk_label_set_label (self->description, words);
  gtk_widget_set_tooltip_text (GTK_WIDGET (self), words);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL, whole, -1);
  show_left (self, forecast);
  return GTK_WIDGET (self);
}

const char *
tpt_rig_row_get_unit (TptRigRow *self)
{
  return self->unit;
}
