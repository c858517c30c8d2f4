#include "config.h"

#include "tpt-details-view.h"

#include "tpt-figure-view.h"
#include "tpt-findings-words.h"
#include "tpt-table-view.h"

struct _TptDetailsView {
  GtkWidget parent_instance;

  GtkWidget *occupancy;
  GtkLabel *occupancy_words;
  GtkDropDown *occasion;
  GtkWidget *hours;
  GtkLabel *light_words;
  GtkLabel *rhythm_words;
  GtkWidget *trend;
  GtkLabel *trend_words;
  GtkWidget *moon;
  GtkLabel *moon_words;
  TptFigureView *moon_view;
  TptTableView *moon_table;
};

G_DEFINE_FINAL_TYPE (TptDetailsView, tpt_details_view, GTK_TYPE_WIDGET)

enum {
  SIGNAL_OCCASION_SET,
  N_SIGNALS,
};

static guint signals[N_SIGNALS];

/* In the order of the drop-down. */
static const int occasion_days[] = { 7, TPT_OCCASION_DAYS, 28 };

static void
occasion_cb (TptDetailsView *self)
{
  g_signal_emit (self, signals[SIGNAL_OCCASION_SET], 0, tpt_details_view_get_occasion_days (self));
}

static void
tpt_details_view_dispose (GObject *object)
{
  gtk_widget_dispose_template (GTK_WIDGET (object), TPT_TYPE_DETAILS_VIEW);
  G_OBJECT_CLASS (tpt_details_view_parent_class)->dispose (object);
}

static void
bind_children (GtkWidgetClass *widget_class)
{
  gtk_widget_class_bind_template_child_full (widget_class, "scrolled", FALSE, 0);
  gtk_widget_class_bind_template_child (widget_class, TptDetailsView, occupancy);
  gtk_widget_class_bind_template_child (widget_class, TptDetailsView, occupancy_words);
  gtk_widget_class_bind_template_child (widget_class, TptDetailsView, occasion);
  gtk_widget_class_bind_template_child (widget_class, TptDetailsView, hours);
  gtk_widget_class_bind_template_child (widget_class, TptDetailsView, light_words);
  gtk_widget_class_bind_template_child (widget_class, TptDetailsView, rhythm_words);
  gtk_widget_class_bind_template_child (widget_class, TptDetailsView, trend);
  gtk_widget_class_bind_template_child (widget_class, TptDetailsView, trend_words);
  gtk_widget_class_bind_template_child (widget_class, TptDetailsView, moon);
  gtk_widget_class_bind_template_child (widget_class, TptDetailsView, moon_words);
  gtk_widget_class_bind_template_child (widget_class, TptDetailsView, moon_view);
  gtk_widget_class_bind_template_child (widget_class, TptDetailsView, moon_table);
}

static void
tpt_details_view_class_init (TptDetailsViewClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = tpt_details_view_dispose;
  signals[SIGNAL_OCCASION_SET] = g_signal_new ("occasion-set", G_TYPE_FROM_CLASS (klass), G_SIGNAL_RUN_LAST, 0, NULL, NULL,
                                               NULL, G_TYPE_NONE, 1, G_TYPE_INT);
  g_type_ensure (TPT_TYPE_FIGURE_VIEW);
  g_type_ensure (TPT_TYPE_TABLE_VIEW);
  gtk_widget_class_set_template_from_resource (widget_class, "/io/github/tapetum/Tapetum/findings/tpt-details-view.ui");
  bind_children (widget_class);
  gtk_widget_class_bind_template_callback (widget_class, occasion_cb);
}

static void
tpt_details_view_init (TptDetailsView *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
}

GtkWidget *
tpt_details_view_new (void)
{
  return g_object_new (TPT_TYPE_DETAILS_VIEW, NULL);
}

void
tpt_details_view_set_activity (TptDetailsView *self, TptJobActivity *job)
{
  const TptActivity *activity = job != NULL ? tpt_job_activity_get (job, 0) : NULL;
  g_autofree char *light = activity != NULL ? tpt_findings_words_light (activity) : NULL;
  g_autofree char *rhythm = activity != NULL ? tpt_findings_words_rhythm (activity) : NULL;

  gtk_label_set_label (self->light_words, light != NULL ? light : "");
  gtk_label_set_label (self->rhythm_words, rhythm != NULL ? rhythm : "");
  gtk_widget_set_visible (self->hours, activity != NULL);
}

void
tpt_details_view_set_months (TptDetailsView *self, TptJobMonths *job)
{
  gboolean compares = job != NULL && tpt_job_months_get_ratio (job) != NULL; /* which the page says itself */

  gtk_label_set_label (self->trend_words, job != NULL ? tpt_job_months_get_sentence (job) : "");
  gtk_widget_set_visible (self->trend, job != NULL && !compares);
}

void
tpt_details_view_set_moon (TptDetailsView *self, TptJobMoon *job)
{
  gtk_label_set_label (self->moon_words, job != NULL ? tpt_job_moon_get_sentence (job) : "");
  tpt_figure_view_set_figure (self->moon_view, job != NULL ? tpt_job_moon_get_figure (job) : NULL);
  tpt_table_view_take_table (self->moon_table, job != NULL ? tpt_figure_table (tpt_job_moon_get_figure (job)) : NULL);
  gtk_widget_set_visible (self->moon, job != NULL);
}

void
tpt_details_view_set_occupancy (TptDetailsView *self, TptJobOccupancy *job, const char *words)
{
  gtk_label_set_label (self->occupancy_words, job != NULL ? tpt_job_occupancy_get_sentence (job) : words != NULL ? words : "");
  gtk_widget_set_visible (GTK_WIDGET (self->occasion), job != NULL);
  gtk_widget_set_visible (self->occupancy, job != NULL || words != NULL);
}

int
tpt_details_view_get_occasion_days (TptDetailsView *self)
{
  guint at = gtk_drop_down_get_selected (self->occasion);

  return at < G_N_ELEMENTS (occasion_days) ? occasion_days[at] : TPT_OCCASION_DAYS;
}

void
tpt_details_view_set_occasion_days (TptDetailsView *self, int days)
{
  for (guint i = 0; i < G_N_ELEMENTS (occasion_days); i++)
    if (occasion_days[i] == days)
      gtk_drop_down_set_selected (self->occasion, i);
}
