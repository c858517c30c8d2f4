#include "config.h"

#include "tpt-compare-button.h"

#include <glib/gi18n-lib.h>

#include "tpt-findings-choice.h"
#include "tpt-findings-words.h"
#include "tpt-period-button.h"

struct _TptCompareButton {
  GtkWidget parent_instance;

  GtkMenuButton *button;
  GtkPopover *popover;
  GtkWidget *offer;
  GtkLabel *offer_words;
  GtkEntry *first;
  GtkEntry *last;
  GtkWidget *apply;
  GtkLabel *fault;
  GtkWidget *species_part;
  GtkLabel *species_words;
  GtkDropDown *species;
  GtkWidget *none;

  TptZone *zone; /* (owned) */
  TptInstant now;
  TptRange period;
  GStrv names; /* (owned) (nullable): of the rows of the drop-down after the first */
  gboolean setting;
};

G_DEFINE_FINAL_TYPE (TptCompareButton, tpt_compare_button, GTK_TYPE_WIDGET)

enum {
  SIGNAL_PERIODS_SET,
  SIGNAL_SPECIES_SET,
  SIGNAL_NONE_SET,
  N_SIGNALS,
};

static guint signals[N_SIGNALS];

static gboolean
is_set (TptRange range)
{
  return range.from != TPT_NO_INSTANT || range.to != TPT_NO_INSTANT;
}

/* The period the first offer sets beside that of a year before: what is chosen, with
 * now for an open end, or else the last twelve months. */
static TptRange
get_offered (TptCompareButton *self)
{
  TptRange period = self->period;

  if (period.to == TPT_NO_INSTANT)
    period.to = tpt_zone_day_from_number (self->zone, tpt_zone_local_day (self->zone, self->now) + 1);
  if (period.from == TPT_NO_INSTANT)
    period.from = tpt_findings_shift_years (period, -1, self->zone).to;
  return period;
}

static void
emit_periods (TptCompareButton *self, TptRange period, TptRange other)
{
  gtk_popover_popdown (self->popover);
  g_signal_emit (self, signals[SIGNAL_PERIODS_SET], 0, period.from, period.to, other.from, other.to);
}

static void
offer_cb (TptCompareButton *self)
{
  TptRange period = get_offered (self);

  emit_periods (self, period, tpt_findings_shift_years (period, -1, self->zone));
}

static void
show_fault (TptCompareButton *self, const char *fault)
{
  gtk_label_set_label (self->fault, fault != NULL ? fault : "");
  gtk_widget_set_visible (GTK_WIDGET (self->fault), fault != NULL);
}

static void
apply_cb (TptCompareButton *self)
{
  g_autofree char *first = g_strstrip (g_strdup (gtk_editable_get_text (GTK_EDITABLE (self->first))));
  g_autofree char *last = g_strstrip (g_strdup (gtk_editable_get_text (GTK_EDITABLE (self->last))));
  g_autoptr (GError) error = NULL;
  TptRange other;

  if (!tpt_period_parse (first, last, self->zone, &other, &error))
    show_fault (self, error->message);
  else if (!is_set (other))
    show_fault (self, _("Give the first or the last day of the other period."));
  else
    emit_periods (self, get_offered (self), other);
}

static void
none_cb (TptCompareButton *self)
{
  gtk_popover_popdown (self->popover);
  g_signal_emit (self, signals[SIGNAL_NONE_SET], 0);
}

static void
species_cb (TptCompareButton *self)
{
  guint at = gtk_drop_down_get_selected (self->species);

  if (self->setting || at == 0 || at == GTK_INVALID_LIST_POSITION || self->names == NULL)
    return;
  gtk_popover_popdown (self->popover);
  g_signal_emit (self, signals[SIGNAL_SPECIES_SET], 0, self->names[at - 1]);
}

static void
tpt_compare_button_dispose (GObject *object)
{
  gtk_widget_dispose_template (GTK_WIDGET (object), TPT_TYPE_COMPARE_BUTTON);
  G_OBJECT_CLASS (tpt_compare_button_parent_class)->dispose (object);
}

static void
tpt_compare_button_finalize (GObject *object)
{
  TptCompareButton *self = TPT_COMPARE_BUTTON (object);

  tpt_zone_unref (self->zone);
  g_strfreev (self->names);
  G_OBJECT_CLASS (tpt_compare_button_parent_class)->finalize (object);
}

static void
bind_children (GtkWidgetClass *widget_class)
{
  gtk_widget_class_bind_template_child (widget_class, TptCompareButton, button);
  gtk_widget_class_bind_template_child (widget_class, TptCompareButton, popover);
  gtk_widget_class_bind_template_child (widget_class, TptCompareButton, offer);
  gtk_widget_class_bind_template_child (widget_class, TptCompareButton, offer_words);
  gtk_widget_class_bind_template_child (widget_class, TptCompareButton, first);
  gtk_widget_class_bind_template_child (widget_class, TptCompareButton, last);
  gtk_widget_class_bind_template_child (widget_class, TptCompareButton, apply);
  gtk_widget_class_bind_template_child (widget_class, TptCompareButton, fault);
  gtk_widget_class_bind_template_child (widget_class, TptCompareButton, species_part);
  gtk_widget_class_bind_template_child (widget_class, TptCompareButton, species_words);
  gtk_widget_class_bind_template_child (widget_class, TptCompareButton, species);
  gtk_widget_class_bind_template_child (widget_class, TptCompareButton, none);
}

static void
tpt_compare_button_class_init (TptCompareButtonClass *klass)
{
  GObjectClass *object_class = G_OBJECT_CLASS (klass);
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);
  GType type = G_TYPE_FROM_CLASS (klass);

  object_class->dispose = tpt_compare_button_dispose;
  object_class->finalize = tpt_compare_button_finalize;
  signals[SIGNAL_PERIODS_SET] = g_signal_new ("periods-set", type, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 4,
                                              G_TYPE_INT64, G_TYPE_INT64, G_TYPE_INT64, G_TYPE_INT64);
  signals[SIGNAL_SPECIES_SET] = g_signal_new ("species-set", type, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 1,
                                              G_TYPE_STRING);
  signals[SIGNAL_NONE_SET] = g_signal_new ("none-set", type, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);

  gtk_widget_class_set_template_from_resource (widget_class, "/io/github/tapetum/Tapetum/findings/tpt-compare-button.ui");
  bind_children (widget_class);
  gtk_widget_class_bind_template_callback (widget_class, offer_cb);
  gtk_widget_class_bind_template_callback (widget_class, apply_cb);
  gtk_widget_class_bind_template_callback (widget_class, none_cb);
  gtk_widget_class_bind_template_callback (widget_class, species_cb);
}

static void
tpt_compare_button_init (TptCompareButton *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
  self->zone = tpt_zone_new ("UTC", NULL);
  self->period = (TptRange) { TPT_NO_INSTANT, TPT_NO_INSTANT };
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->button), GTK_ACCESSIBLE_PROPERTY_LABEL, _("Compare"), -1);
}

void
tpt_compare_button_set_moment (TptCompareButton *self, TptZone *zone, TptInstant now)
{
  self->now = now;
  tpt_zone_unref (self->zone);
  self->zone = zone != NULL ? tpt_zone_ref (zone) : tpt_zone_new ("UTC", NULL);
}

static char *
word_offer (TptCompareButton *self)
{
  TptRange offered = get_offered (self);
  g_autofree char *period = tpt_findings_words_period (offered, self->zone);
  g_autofree char *before = tpt_findings_words_period (tpt_findings_shift_years (offered, -1, self->zone), self->zone);

  return g_strdup_printf (_("%s beside %s"), period, before);
}

void
tpt_compare_button_set_periods (TptCompareButton *self, TptRange period, TptRange other)
{
  g_autofree char *words = NULL;

  self->period = period;
  words = word_offer (self);
  gtk_button_set_label (GTK_BUTTON (self->offer),
                        is_set (period) ? _("The same months a year before") : _("The last 12 months and the 12 before"));
  gtk_label_set_label (self->offer_words, words);
  tpt_period_show_days (self->first, self->last, other, self->zone);
  show_fault (self, NULL);
}

static guint
fill_species (TptCompareButton *self, const char *const *names, const char *const *titles, const char *chosen, const char *other)
{
  g_autoptr (GtkStringList) rows = gtk_string_list_new (NULL);
  g_autoptr (GStrvBuilder) kept = g_strv_builder_new ();
  guint selected = 0, row = 0;

  gtk_string_list_append (rows, _("Choose…"));
  for (guint i = 0; names[i] != NULL; i++)
    if (g_strcmp0 (names[i], chosen) != 0)
      {
        gtk_string_list_append (rows, titles[i]);
        g_strv_builder_add (kept, names[i]);
        row++;
        if (g_strcmp0 (names[i], other) == 0)
          selected = row;
      }
  g_strfreev (self->names);
  self->names = g_strv_builder_end (kept);
  gtk_drop_down_set_model (self->species, G_LIST_MODEL (rows));
  return selected;
}

void
tpt_compare_button_set_species (TptCompareButton *self, const char *const *names, const char *const *titles,
                                const char *chosen, const char *other)
{
  self->setting = TRUE;
  gtk_drop_down_set_selected (self->species, fill_species (self, names, titles, chosen, other));
  self->setting = FALSE;
  gtk_widget_set_sensitive (GTK_WIDGET (self->species), chosen != NULL);
  gtk_label_set_label (self->species_words, chosen != NULL ? _("Another species") : _("Another species, once one is chosen"));
}

void
tpt_compare_button_set_comparing (TptCompareButton *self, gboolean comparing)
{
  gtk_widget_set_visible (self->none, comparing);
}
