#include "config.h"

#include "tpt-shelf-page.h"

#include "tpt-job-shelf.h"
#include "tpt-stock-list.h"
#include "tpt-unit-list.h"
#include "tpt-unit-page.h"

struct _TptShelfPage {
  GtkWidget parent_instance;

  TptProject *project;       /* (owned) (nullable) */
  GCancellable *cancellable; /* (owned) (nullable): of the run whose result is wanted */
  gboolean stale;            /* what shows has to be read again */

  TptUnitList *units;
  TptUnitPage *unit;
  TptStockList *stock;
};

G_DEFINE_FINAL_TYPE (TptShelfPage, tpt_shelf_page, GTK_TYPE_WIDGET)

static void
stop (TptShelfPage *self)
{
  if (self->cancellable != NULL)
    g_cancellable_cancel (self->cancellable);
  g_clear_object (&self->cancellable);
}

/* Somebody who opens the shelf sees a unit, not an empty page. */
static void
choose_first (TptShelfPage *self)
{
  g_autoptr (TptUnitItem) first = g_list_model_get_item (tpt_unit_list_get_shown (self->units), 0);

  if (first != NULL)
    tpt_shelf_page_choose (self, tpt_unit_item_get_code (first));
}

/* The chosen unit may be gone, by an undo or through somebody else. */
static gboolean
is_chosen_there (TptShelfPage *self, GListModel *units)
{
  const char *chosen = tpt_unit_list_get_chosen (self->units);

  for (guint i = 0; chosen != NULL && i < g_list_model_get_n_items (units); i++)
    {
      g_autoptr (TptUnitItem) item = g_list_model_get_item (units, i);

      if (g_str_equal (tpt_unit_item_get_code (item), chosen))
        return TRUE;
    }
  return FALSE;
}

static void
show_result (TptShelfPage *self, TptJobShelf *job)
{
  GListModel *units = tpt_job_shelf_get_units (job);

  tpt_unit_list_set_units (self->units, units, tpt_project_get_zone (self->project), tpt_project_get_now (self->project, NULL));
  tpt_stock_list_set_stock (self->stock, tpt_job_shelf_get_stock (job));
  if (is_chosen_there (self, units))
    tpt_unit_page_show (self->unit, tpt_unit_list_get_chosen (self->units));
  else
    {
      tpt_shelf_page_choose (self, NULL);
      choose_first (self);
    }
}

static void
ran_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (TptShelfPage) self = data;
  g_autoptr (GError) error = NULL;
  gboolean good = tpt_project_run_finish (TPT_PROJECT (source), result, &error);

  if (g_task_get_cancellable (G_TASK (result)) != self->cancellable || g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED))
    return;
  if (good)
    show_result (self, TPT_JOB_SHELF (tpt_project_get_job (result)));
  else
    gtk_widget_activate_action (GTK_WIDGET (self), "win.complain", "s", error->message);
}

static void
run (TptShelfPage *self)
{
  g_autoptr (TptJobShelf) job = tpt_job_shelf_new (TPT_NO_INSTANT);

  stop (self);
  self->stale = FALSE;
  self->cancellable = g_cancellable_new ();
  tpt_project_run_async (self->project, TPT_JOB (job), self->cancellable, ran_cb, g_object_ref (self));
}

static void
changed_cb (TptShelfPage *self)
{
  self->stale = TRUE;
  if (gtk_widget_get_mapped (GTK_WIDGET (self)))
    run (self);
}

static void
unit_chosen_cb (TptShelfPage *self, const char *code)
{
  tpt_unit_page_show (self->unit, code);
}

static void
tpt_shelf_page_map (GtkWidget *widget)
{
  TptShelfPage *self = TPT_SHELF_PAGE (widget);

  GTK_WIDGET_CLASS (tpt_shelf_page_parent_class)->map (widget);
  if (self->stale && self->project != NULL)
    run (self);
}

static void
forget (TptShelfPage *self)
{
  stop (self);
  if (self->project != NULL)
    g_signal_handlers_disconnect_by_func (self->project, changed_cb, self);
  g_clear_object (&self->project);
}

static void
tpt_shelf_page_dispose (GObject *object)
{
  forget (TPT_SHELF_PAGE (object));
  gtk_widget_dispose_template (GTK_WIDGET (object), TPT_TYPE_SHELF_PAGE);

  G_OBJECT_CLASS (tpt_shelf_page_parent_class)->dispose (object);
}

static void
tpt_shelf_page_class_init (TptShelfPageClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = tpt_shelf_page_dispose;
  widget_class->map = tpt_shelf_page_map;

  g_type_ensure (TPT_TYPE_STOCK_LIST);
  g_type_ensure (TPT_TYPE_UNIT_LIST);
  g_type_ensure (TPT_TYPE_UNIT_PAGE);
  gtk_widget_class_set_template_from_resource (widget_class, "/io/github/tapetum/Tapetum/units/tpt-shelf-page.ui");
  gtk_widget_class_bind_template_child_full (widget_class, "outer", FALSE, 0);
  gtk_widget_class_bind_template_child (widget_class, TptShelfPage, units);
  gtk_widget_class_bind_template_child (widget_class, TptShelfPage, unit);
  gtk_widget_class_bind_template_child (widget_class, TptShelfPage, stock);
  gtk_widget_class_bind_template_callback (widget_class, unit_chosen_cb);
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
}

static void
tpt_shelf_page_init (TptShelfPage *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
}

GtkWidget *
tpt_shelf_page_new (void)
{
  return g_object_new (TPT_TYPE_SHELF_PAGE, NULL);
}

void
tpt_shelf_page_set_project (TptShelfPage *self, TptProject *project)
{
  if (self->project == project)
    return;
  forget (self);
  tpt_unit_list_set_units (self->units, NULL, NULL, TPT_NO_INSTANT);
  tpt_unit_list_choose (self->units, NULL);
  tpt_unit_page_set_project (self->unit, project);
  tpt_stock_list_set_project (self->stock, project);
  if (project == NULL)
    return;
  self->project = g_object_ref (project);
  g_signal_connect_object (project, "changed", G_CALLBACK (changed_cb), self, G_CONNECT_SWAPPED);
  changed_cb (self);
}

void
tpt_shelf_page_choose (TptShelfPage *self, const char *unit)
{
  g_autofree char *code = g_strdup (unit);

  tpt_unit_list_choose (self->units, code);
  tpt_unit_page_show (self->unit, code);
}
