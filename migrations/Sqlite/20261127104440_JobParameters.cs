using System;
using Microsoft.EntityFrameworkCore.Migrations;

#nullable disable

namespace Handwheel.Migrations.Sqlite
{
    /// <inheritdoc />
    public partial class JobParameters : Migration
    {
        /// <inheritdoc />
        protected override void Up(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.CreateTable(
                name: "JobParameters",
                columns: table => new
                {
                    Id = table.Column<Guid>(type: "TEXT", nullable: false),
                    JobId = table.Column<Guid>(type: "TEXT", nullable: false),
                    Number = table.Column<int>(type: "INTEGER", nullable: false),
                    Typed = table.Column<string>(type: "TEXT", maxLength: 20, nullable: false),
                    From = table.Column<string>(type: "TEXT", maxLength: 200, nullable: false),
                    SaidAt = table.Column<long>(type: "INTEGER", nullable: false),
                    SaidBy = table.Column<Guid>(type: "TEXT", nullable: false),
                    ReplacedAt = table.Column<long>(type: "INTEGER", nullable: true),
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_JobParameters", x => x.Id);
                    table.ForeignKey(
                        name: "FK_JobParameters_Jobs_JobId",
                        column: x => x.JobId,
                        principalTable: "Jobs",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Restrict
                    );
                }
            );

            migrationBuilder.CreateIndex(name: "IX_JobParameters_JobId", table: "JobParameters", column: "JobId");
        }

        /// <inheritdoc />
        protected override void Down(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.DropTable(name: "JobParameters");
        }
    }
}
