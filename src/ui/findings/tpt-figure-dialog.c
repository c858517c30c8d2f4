#include "config.h"

#include "tpt-figure-dialog.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "tpt-job-figure.h"
#include "tpt-save-chooser.h"

#define PREVIEW_MARGIN 20

/* In the order of the drop-downs; that of groups is the order of TptLivesBy. */
static const struct {
  const char *name;
  const char *kind; /* of tpt_job_figure_new() */
  gboolean by_sun;
} kinds[] = {
  { "strip", "strip", FALSE },
  { "map", "map", FALSE },
  { "hours", "hours", FALSE },
  { "hours-by-sun", "hours", TRUE },
  { "months", "months", FALSE },
  { "matrix", "matrix", FALSE },
  { "accumulation", "accumulation", FALSE },
  { "due", "due", FALSE },
  { "lives", "lives", FALSE },
};

/* Pixels per inch of a PNG: as printers like it, or two for each unit of a screen. */
static const struct {
  const char *name;
  double dpi;
} sizes[] = {
  { "column", 300 },
  { "page", 300 },
  { "slide", 192 },
  { "phone", 192 },
};

struct _TptFigureDialog {
  AdwWindow parent_instance;

  GtkProgressBar *progress;
  GtkDropDown *kind;
  GtkWidget *by_choice;
  GtkDropDown *by;
  GtkDropDown *size;
  GtkDropDown *colors;
  GtkWidget *exact_choice;
  GtkSwitch *exact;
  GtkWidget *discreet_note;
  GtkWidget *exact_note;
  GtkLabel *fault;
  GtkDrawingArea *preview;

  TptProject *project;          /* (owned) (nullable) */
  TptFilter *filter;            /* (owned) (nullable) */
  TptFilter *other;             /* (owned) (nullable): beside it */
  TptFigure *figure;            /* (owned) (nullable) */
  GCancellable *preview_run;    /* (owned) (nullable): the run whose result is wanted */
  GCancellable *write_run;      /* (owned) (nullable) */
  GtkFileChooserNative *chooser; /* (owned) (nullable) */
};

G_DEFINE_FINAL_TYPE (TptFigureDialog, tpt_figure_dialog, ADW_TYPE_WINDOW)

static guint
get_row (TptFigureDialog *self)
{
  return MIN (gtk_drop_down_get_selected (self->kind), G_N_ELEMENTS (kinds) - 1);
}

static const char *
get_kind (TptFigureDialog *self)
{
  return kinds[get_row (self)].kind;
}

static gboolean
shows_lives (TptFigureDialog *self)
{
  return g_str_equal (get_kind (self), "lives");
}

static gboolean
shows_due (TptFigureDialog *self)
{
  return g_str_equal (get_kind (self), "due");
}

/* (transfer full): lives are those of all units: they have no places and take
 * no filter; what is due knows stations alone. */
static TptFilter *
make_filter (TptFigureDialog *self)
{
  TptFilter *filter;

  if (!shows_lives (self) && !shows_due (self))
    return tpt_filter_copy (self->filter);
  filter = tpt_filter_new ();
  if (shows_due (self))
    filter->stations = g_strdupv (self->filter->stations);
  return filter;
}

static TptJobFigure *
make_job (TptFigureDialog *self)
{
  g_autoptr (TptFilter) filter = make_filter (self);
  TptJobFigure *job =
    tpt_job_figure_new (get_kind (self), filter, !shows_lives (self) && gtk_switch_get_active (self->exact));

  if (self->other != NULL)
    tpt_job_figure_compare (job, self->other);
  tpt_job_figure_set_by_sun (job, kinds[get_row (self)].by_sun);
  tpt_job_figure_set_by (job, (TptLivesBy) MIN (gtk_drop_down_get_selected (self->by), TPT_LIVES_BY_CAUSE));
  return job;
}

static TptFigureSize
get_size (TptFigureDialog *self)
{
  guint at = MIN (gtk_drop_down_get_selected (self->size), G_N_ELEMENTS (sizes) - 1);
  TptFigureSize size = TPT_FIGURE_SIZE_INIT;

  tpt_figure_size_parse (sizes[at].name, &size, NULL);
  size.dpi = sizes[at].dpi;
  return size;
}

static TptFigureStyle
get_style (TptFigureDialog *self)
{
  TptFigureStyle style = TPT_FIGURE_STYLE_INIT;

  style.palette = gtk_drop_down_get_selected (self->colors) == 1 ? TPT_PALETTE_PRINT : TPT_PALETTE_LIGHT;
  style.framed = TRUE;
  return style;
}

static void
show_fault (TptFigureDialog *self, const char *fault)
{
  gtk_label_set_label (self->fault, fault != NULL ? fault : "");
  gtk_widget_set_visible (GTK_WIDGET (self->fault), fault != NULL);
}

static void
drop_run (GCancellable **run)
{
  if (*run != NULL)
    g_cancellable_cancel (*run);
  g_clear_object (run);
}

static void
update_actions (TptFigureDialog *self)
{
  gtk_widget_action_set_enabled (GTK_WIDGET (self), "figure.save", self->figure != NULL && self->write_run == NULL);
}

static void
set_figure (TptFigureDialog *self, TptFigure *figure)
{
  g_autofree char *words = figure != NULL ? tpt_figure_describe (figure) : g_strdup (_("The figure is being made"));

  g_clear_pointer (&self->figure, tpt_figure_unref);
  if (figure != NULL)
    self->figure = tpt_figure_ref (figure);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->preview), GTK_ACCESSIBLE_PROPERTY_LABEL, words, -1);
  gtk_widget_queue_draw (GTK_WIDGET (self->preview));
  update_actions (self);
}

static void
preview_ready_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (TptFigureDialog) self = data;
  g_autoptr (GError) error = NULL;
  gboolean good = tpt_project_run_finish (TPT_PROJECT (source), result, &error);

  if (g_task_get_cancellable (G_TASK (result)) != self->preview_run ||
      g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED))
    return;
  g_clear_object (&self->preview_run);
  show_fault (self, good ? NULL : error->message);
  set_figure (self, good ? tpt_job_figure_get_figure (TPT_JOB_FIGURE (tpt_project_get_job (result))) : NULL);
}

static void
make_preview (TptFigureDialog *self)
{
  g_autoptr (TptJobFigure) job = NULL;

  if (self->project == NULL)
    return;
  drop_run (&self->preview_run);
  set_figure (self, NULL);
  self->preview_run = g_cancellable_new ();
  job = make_job (self);
  tpt_project_run_async (self->project, TPT_JOB (job), self->preview_run, preview_ready_cb, g_object_ref (self));
}

static void
content_changed_cb (TptFigureDialog *self)
{
  make_preview (self);
}

static void
look_changed_cb (TptFigureDialog *self)
{
  gtk_widget_queue_draw (GTK_WIDGET (self->preview));
}

static void
show_choices (TptFigureDialog *self)
{
  gboolean exact = gtk_switch_get_active (self->exact), lives = shows_lives (self);

  gtk_widget_set_visible (self->by_choice, lives);
  gtk_widget_set_visible (self->exact_choice, !lives);
  gtk_widget_set_visible (self->exact_note, exact && !lives);
  gtk_widget_set_visible (self->discreet_note, !exact && !lives);
}

static void
kind_changed_cb (TptFigureDialog *self)
{
  show_choices (self);
  make_preview (self);
}

static void
exact_changed_cb (TptFigureDialog *self)
{
  show_choices (self);
  make_preview (self);
}

/* A sheet of paper in the middle, as large as it fits. */
static void
draw_preview_cb (GtkDrawingArea *area, cairo_t *cr, int width, int height, gpointer data)
{
  TptFigureDialog *self = data;
  TptFigureStyle style = get_style (self);
  TptFigureSize size = get_size (self);
  double scale;

  if (self->figure == NULL)
    return;
  if (!(size.height > 0))
    size.height = tpt_figure_preferred_height (self->figure, size.width, &style);
  scale = MIN ((width - 2 * PREVIEW_MARGIN) / size.width, (height - 2 * PREVIEW_MARGIN) / size.height);
  if (scale <= 0)
    return;

  cairo_translate (cr, round ((width - size.width * scale) / 2), round ((height - size.height * scale) / 2));
  cairo_set_source_rgba (cr, 0, 0, 0, 0.25);
  cairo_set_line_width (cr, 1);
  cairo_rectangle (cr, -0.5, -0.5, size.width * scale + 1, size.height * scale + 1);
  cairo_stroke (cr);
  cairo_scale (cr, scale, scale);
  tpt_figure_draw (self->figure, cr, size.width, size.height, &style);
}

static void
toast_written (TptFigureDialog *self, const char *path, const char *csv)
{
  GtkWindow *parent = gtk_window_get_transient_for (GTK_WINDOW (self));
  g_autofree char *figure_name = g_path_get_basename (path);
  g_autofree char *csv_name = g_path_get_basename (csv);
  /* Translators: the names of two files. */
  g_autofree char *words = g_strdup_printf (_("Written: %s and %s"), figure_name, csv_name);

  if (parent != NULL)
    gtk_widget_activate_action (GTK_WIDGET (parent), "win.say", "s", words);
}

static void
end_write (TptFigureDialog *self)
{
  g_clear_object (&self->write_run);
  gtk_widget_set_visible (GTK_WIDGET (self->progress), FALSE);
  update_actions (self);
}

static void
written_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (TptFigureDialog) self = data;
  g_autoptr (GError) error = NULL;
  TptJobFigure *job = TPT_JOB_FIGURE (tpt_project_get_job (result));
  gboolean good = tpt_project_run_finish (TPT_PROJECT (source), result, &error);
  const char *path = g_object_get_data (G_OBJECT (job), "path");

  if (g_task_get_cancellable (G_TASK (result)) != self->write_run)
    return;
  end_write (self);
  if (!good)
    {
      show_fault (self, g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED) ? NULL : error->message);
      return;
    }
  toast_written (self, path, tpt_job_figure_get_csv_path (job));
  gtk_window_close (GTK_WINDOW (self));
}

void
tpt_figure_dialog_write_to (TptFigureDialog *self, const char *path)
{
  g_autoptr (TptJobFigure) job = NULL;
  TptFigureSize size = get_size (self);
  TptFigureStyle style = get_style (self);

  if (self->write_run != NULL)
    return;
  show_fault (self, NULL);
  job = make_job (self);
  tpt_job_figure_write_to (job, path, &size, &style);
  g_object_set_data_full (G_OBJECT (job), "path", g_strdup (path), g_free);
  self->write_run = g_cancellable_new ();
  gtk_widget_set_visible (GTK_WIDGET (self->progress), TRUE);
  g_object_bind_property (job, "progress", self->progress, "fraction", G_BINDING_SYNC_CREATE);
  update_actions (self);
  tpt_project_run_async (self->project, TPT_JOB (job), self->write_run, written_cb, g_object_ref (self));
}

static void
file_chosen_cb (TptFigureDialog *self, int response)
{
  g_autoptr (GFile) file = NULL;
  g_autofree char *path = NULL;

  if (response == GTK_RESPONSE_ACCEPT)
    file = gtk_file_chooser_get_file (GTK_FILE_CHOOSER (self->chooser));
  g_clear_object (&self->chooser);
  if (file == NULL)
    return;
  path = g_file_get_path (file);
  if (path != NULL)
    tpt_figure_dialog_write_to (self, path);
  else
    show_fault (self, _("Choose a folder of this computer"));
}

/* "sun-bear-map.png": the species as it is called in the filter. */
static char *
suggest_name (TptFigureDialog *self)
{
  const char *species = shows_lives (self)                                                ? _("units")
                        : shows_due (self)                                                  ? _("stations")
                        : self->filter->species != NULL && self->filter->species[0] != NULL ? self->filter->species[0]
                                                                                            : _("all-species");
  g_autofree char *lower = g_utf8_strdown (species, -1);

  g_strdelimit (lower, " /\\:", '-');
  return g_strdup_printf ("%s-%s.png", lower, get_kind (self));
}

static void
save_cb (GtkWidget *widget, const char *action, GVariant *parameter)
{
  static const char *const patterns[] = { "*.png", "*.svg", "*.pdf", NULL };
  TptFigureDialog *self = TPT_FIGURE_DIALOG (widget);
  g_autofree char *name = suggest_name (self);

  g_clear_object (&self->chooser);
  self->chooser = tpt_save_chooser_new (GTK_WINDOW (self), _("Save the figure"), tpt_project_get_path (self->project), name,
                                        _("Figures (.png, .svg, .pdf)"), patterns);
  g_signal_connect_object (self->chooser, "response", G_CALLBACK (file_chosen_cb), self, G_CONNECT_SWAPPED);
  gtk_native_dialog_show (GTK_NATIVE_DIALOG (self->chooser));
}

/* The first press stops what is being written, the next one leaves. */
static void
cancel_cb (GtkWidget *widget, const char *action, GVariant *parameter)
{
  TptFigureDialog *self = TPT_FIGURE_DIALOG (widget);

  if (self->write_run != NULL)
    g_cancellable_cancel (self->write_run);
  else
    gtk_window_close (GTK_WINDOW (self));
}

static void
tpt_figure_dialog_dispose (GObject *object)
{
  TptFigureDialog *self = TPT_FIGURE_DIALOG (object);

  drop_run (&self->preview_run);
  drop_run (&self->write_run);
  g_clear_object (&self->chooser);
  g_clear_object (&self->project);
  g_clear_pointer (&self->filter, tpt_filter_free);
  g_clear_pointer (&self->other, tpt_filter_free);
  g_clear_pointer (&self->figure, tpt_figure_unref);
  gtk_widget_dispose_template (GTK_WIDGET (self), TPT_TYPE_FIGURE_DIALOG);

  G_OBJECT_CLASS (tpt_figure_dialog_parent_class)->dispose (object);
}

static void
bind_children (GtkWidgetClass *widget_class)
{
  gtk_widget_class_bind_template_child (widget_class, TptFigureDialog, progress);
  gtk_widget_class_bind_template_child (widget_class, TptFigureDialog, kind);
  gtk_widget_class_bind_template_child (widget_class, TptFigureDialog, by_choice);
  gtk_widget_class_bind_template_child (widget_class, TptFigureDialog, by);
  gtk_widget_class_bind_template_child (widget_class, TptFigureDialog, size);
  gtk_widget_class_bind_template_child (widget_class, TptFigureDialog, colors);
  gtk_widget_class_bind_template_child (widget_class, TptFigureDialog, exact_choice);
  gtk_widget_class_bind_template_child (widget_class, TptFigureDialog, exact);
  gtk_widget_class_bind_template_child (widget_class, TptFigureDialog, discreet_note);
  gtk_widget_class_bind_template_child (widget_class, TptFigureDialog, exact_note);
  gtk_widget_class_bind_template_child (widget_class, TptFigureDialog, fault);
  gtk_widget_class_bind_template_child (widget_class, TptFigureDialog, preview);
}

static void
tpt_figure_dialog_class_init (TptFigureDialogClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = tpt_figure_dialog_dispose;
  gtk_widget_class_set_template_from_resource (widget_class, "/io/github/tapetum/Tapetum/findings/tpt-figure-dialog.ui");
  bind_children (widget_class);
  gtk_widget_class_bind_template_callback (widget_class, kind_changed_cb);
  gtk_widget_class_bind_template_callback (widget_class, content_changed_cb);
  gtk_widget_class_bind_template_callback (widget_class, look_changed_cb);
  gtk_widget_class_bind_template_callback (widget_class, exact_changed_cb);
  gtk_widget_class_install_action (widget_class, "figure.save", NULL, save_cb);
  gtk_widget_class_install_action (widget_class, "figure.cancel", NULL, cancel_cb);
  gtk_widget_class_add_binding_action (widget_class, GDK_KEY_Escape, 0, "figure.cancel", NULL);
}

static void
tpt_figure_dialog_init (TptFigureDialog *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
  gtk_drawing_area_set_draw_func (self->preview, draw_preview_cb, self, NULL);
  update_actions (self);
}

TptFigureDialog *
tpt_figure_dialog_present (GtkWindow *parent, TptProject *project, const char *kind, const TptFilter *filter)
{
  TptFigureDialog *self = g_object_new (TPT_TYPE_FIGURE_DIALOG, "transient-for", parent, NULL);

  for (guint i = 0; i < G_N_ELEMENTS (kinds); i++)
    if (g_strcmp0 (kinds[i].name, kind) == 0)
      gtk_drop_down_set_selected (self->kind, i);
  gtk_drop_down_set_selected (self->size, 1);
  self->project = g_object_ref (project);
  self->filter = tpt_filter_copy (filter);
  make_preview (self);
  gtk_window_present (GTK_WINDOW (self));
  return self;
}

void
tpt_figure_dialog_compare (TptFigureDialog *self, const TptFilter *other)
{
  g_clear_pointer (&self->other, tpt_filter_free);
  self->other = tpt_filter_copy (other);
  make_preview (self);
}

void
tpt_figure_dialog_set_exact (TptFigureDialog *self, gboolean exact)
{
  gtk_switch_set_active (self->exact, exact);
}

TptFigure *
tpt_figure_dialog_get_figure (TptFigureDialog *self)
{
  return self->figure;
}

const char *
tpt_figure_dialog_get_fault (TptFigureDialog *self)
{
  return gtk_label_get_label (self->fault);
}
