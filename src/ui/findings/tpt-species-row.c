#include "config.h"

#include "tpt-species-row.h"

#include <adwaita.h>
#include <glib/gi18n-lib.h>
#include <math.h>

#include "tpt-style.h"
#include "tpt-words.h"

#define BAR_THICKNESS 3
#define LEAST_BAR 2

struct _TptSpeciesRow {
  GtkWidget parent_instance;

  GtkLabel *title;
  GtkLabel *number;
  GtkDrawingArea *bar;
  GtkLabel *scientific;
  GtkLabel *sensitive;
  GtkLabel *stations;

  char *name; /* (owned) (nullable) */
  char *told; /* (owned) (nullable): in words, without what it stands beside */
  double share; /* of the bar that is filled */
};

G_DEFINE_FINAL_TYPE (TptSpeciesRow, tpt_species_row, GTK_TYPE_WIDGET)

char *
tpt_species_row_word_rate (const TptRate *rate)
{
  g_autofree char *per_100 = tpt_words_number (rate->per_100);
  g_autofree char *low = tpt_words_number (rate->low);
  g_autofree char *high = tpt_words_number (rate->high);
  g_autofree char *nights = tpt_words_number (round (rate->nights));

  if (!(rate->nights > 0))
    return g_strdup (_("no rate without trap nights"));
  if (isnan (rate->per_100))
    return g_strdup_printf (_("in %s trap nights"), nights);
  return g_strdup_printf (_("%s per 100 trap nights (%s to %s)"), per_100, low, high);
}

static void
draw_bar_cb (GtkDrawingArea *area, cairo_t *cr, int width, int height, gpointer data)
{
  TptSpeciesRow *self = data;
  double radius = BAR_THICKNESS / 2.0, y = height / 2.0;

  if (self->share <= 0)
    return;
  tpt_palette_set (tpt_style_get_palette (), cr, TPT_COLOR_ACCENT_MID, 1);
  cairo_set_line_width (cr, BAR_THICKNESS);
  cairo_set_line_cap (cr, CAIRO_LINE_CAP_ROUND);
  cairo_move_to (cr, radius, y);
  cairo_line_to (cr, MAX (LEAST_BAR, self->share * width) - radius, y);
  cairo_stroke (cr);
}

/* "9 stations, 1.49"; empty where there is nothing to say. */
static char *
word_stations (const TptRate *rate)
{
  g_autofree char *per_100 = tpt_words_number (rate->per_100);

  if (rate->detections == 0 || isnan (rate->per_100))
    return g_strdup ("");
  return g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%d station, %s", "%d stations, %s", (gulong) rate->stations),
                          rate->stations, per_100);
}

static char *
word_rate_and_stations (const TptRate *rate)
{
  g_autofree char *words = tpt_species_row_word_rate (rate);
  g_autofree char *where = g_strdup_printf (
    g_dngettext (GETTEXT_PACKAGE, "at %d station", "at %d stations", (gulong) rate->stations), rate->stations);

  return rate->stations > 0 ? g_strdup_printf ("%s, %s", where, words) : g_steal_pointer (&words);
}

static void
update_label (TptSpeciesRow *self)
{
  gboolean beside = gtk_widget_has_css_class (GTK_WIDGET (self), "beside");
  g_autofree char *label = beside ? g_strdup_printf (_("%s, compared with what is chosen"), self->told) : g_strdup (self->told);

  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL, label, -1);
}

static void
set_words (TptSpeciesRow *self, const char *title, const TptRate *rate, const char *scientific, const char *sensitive)
{
  g_autofree char *number = tpt_words_number ((double) rate->detections);
  g_autofree char *words = word_rate_and_stations (rate);
  g_autofree char *stations = word_stations (rate);
  g_autofree char *count = g_strdup_printf (
    g_dngettext (GETTEXT_PACKAGE, "%s detection", "%s detections", (gulong) rate->detections), number);
  g_autofree char *tooltip = g_strdup_printf ("%s, %s", count, words);
  g_autofree char *label = sensitive != NULL ? g_strdup_printf ("%s, %s, %s", title, sensitive, tooltip)
                                             : g_strdup_printf ("%s, %s", title, tooltip);

  gtk_label_set_label (self->title, title);
  gtk_label_set_label (self->number, number);
  gtk_label_set_label (self->scientific, scientific);
  gtk_label_set_label (self->sensitive, sensitive != NULL ? sensitive : "");
  gtk_widget_set_visible (GTK_WIDGET (self->sensitive), sensitive != NULL);
  gtk_widget_set_tooltip_text (GTK_WIDGET (self), tooltip);
  gtk_label_set_label (self->stations, stations);
  g_free (self->told);
  self->told = g_steal_pointer (&label);
  update_label (self);
}

static void
tpt_species_row_finalize (GObject *object)
{
  TptSpeciesRow *self = TPT_SPECIES_ROW (object);

  g_free (self->name);
  g_free (self->told);
  G_OBJECT_CLASS (tpt_species_row_parent_class)->finalize (object);
}

static void
tpt_species_row_dispose (GObject *object)
{
  gtk_widget_dispose_template (GTK_WIDGET (object), TPT_TYPE_SPECIES_ROW);
  G_OBJECT_CLASS (tpt_species_row_parent_class)->dispose (object);
}

static void
tpt_species_row_class_init (TptSpeciesRowClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = tpt_species_row_dispose;
  G_OBJECT_CLASS (klass)->finalize = tpt_species_row_finalize;
  gtk_widget_class_set_template_from_resource (widget_class, "/io/github/tapetum/Tapetum/findings/tpt-species-row.ui");
  gtk_widget_class_bind_template_child_full (widget_class, "above", FALSE, 0);
  gtk_widget_class_bind_template_child_full (widget_class, "below", FALSE, 0);
  gtk_widget_class_bind_template_child (widget_class, TptSpeciesRow, title);
  gtk_widget_class_bind_template_child (widget_class, TptSpeciesRow, number);
  gtk_widget_class_bind_template_child (widget_class, TptSpeciesRow, bar);
  gtk_widget_class_bind_template_child (widget_class, TptSpeciesRow, scientific);
  gtk_widget_class_bind_template_child (widget_class, TptSpeciesRow, sensitive);
  gtk_widget_class_bind_template_child (widget_class, TptSpeciesRow, stations);
  gtk_widget_class_set_css_name (widget_class, "species-row");
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_GROUP);
}

static void
tpt_species_row_init (TptSpeciesRow *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
  gtk_drawing_area_set_draw_func (self->bar, draw_bar_cb, self, NULL);
  g_signal_connect_object (adw_style_manager_get_default (), "notify::dark", G_CALLBACK (gtk_widget_queue_draw),
                           self->bar, G_CONNECT_SWAPPED);
}

GtkWidget *
tpt_species_row_new (void)
{
  return g_object_new (TPT_TYPE_SPECIES_ROW, NULL);
}

static void
set_bar (TptSpeciesRow *self, double share)
{
  self->share = share;
  gtk_widget_queue_draw (GTK_WIDGET (self->bar));
}

void
tpt_species_row_show (TptSpeciesRow *self, TptSpeciesItem *item, gint64 most)
{
  TptRecord *record = tpt_species_item_get_record (item);
  const TptRate *rate = tpt_species_item_get_rate (item);
  const char *sensitivity = tpt_record_get_text (record, "sensitivity");
  gboolean is_sensitive = sensitivity != NULL && !g_str_equal (sensitivity, "none");

  g_free (self->name);
  self->name = g_strdup (tpt_record_get_code (record));
  set_words (self, tpt_species_item_get_title (item), rate, tpt_record_get_code (record),
             is_sensitive ? _("sensitive") : NULL);
  set_bar (self, most > 0 ? (double) rate->detections / (double) most : 0);
}

void
tpt_species_row_show_all (TptSpeciesRow *self, const TptRate *rate)
{
  g_clear_pointer (&self->name, g_free);
  set_words (self, _("All species"), rate, _("everything on the list"), NULL);
  set_bar (self, 0);
}

const char *
tpt_species_row_get_name (TptSpeciesRow *self)
{
  return self->name;
}

void
tpt_species_row_set_beside (TptSpeciesRow *self, gboolean beside)
{
  if (beside)
    gtk_widget_add_css_class (GTK_WIDGET (self), "beside");
  else
    gtk_widget_remove_css_class (GTK_WIDGET (self), "beside");
  update_label (self);
}
